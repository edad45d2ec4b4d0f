"""Features laid on a leg: plain numbers, quick to compare under several readings."""

from collections.abc import Iterable, Sequence
from typing import Final, Literal, NamedTuple

from msgspec import Struct

from translator.findings import Severity
from translator.model import LegName
from translator.readers.nc._arcs import Corner
from translator.readers.nc._tree import Remark

SAME_MM: Final = 0.05
"""Lengths of inch sources are rounded; within this two places are one."""

_SAME_BULGE: Final = 1e-6
_CELL_MM: Final = 0.1
_CROWD: Final = 4
"""So many features on one spot are compared with each other; a real part has two."""

ItemKind = Literal["hole", "sink", "slot", "mark", "stamp", "opening", "scribe"]

_X, _Y, _DIAMETER, _DEPTH, _SINK = range(5)


class Item(NamedTuple):
    """One feature in the model's frame.

    ``numbers`` by kind: hole (x, y, diameter, depth, sink diameter), sink (x, y, diameter),
    slot (x, y, width, overall length, angle, depth), mark (x, y), stamp (x, from heel,
    height, angle); 0 where there is none. ``words``: thread of a hole; text and flag of a
    stamp; method and "closed" of a scribe. ``ring``: corners of an opening or scribe.
    """

    leg: LegName
    line: int
    kind: ItemKind
    numbers: tuple[float, ...] = ()
    words: tuple[str, ...] = ()
    ring: tuple[Corner, ...] = ()


class Remarks:
    """Collects what is to be said about one layout while it is made."""

    __slots__ = ("items", "kept")

    def __init__(self) -> None:
        self.items: list[Remark] = []
        self.kept: set[int] = set()

    def warn(self, rule: str, text: str, line: int) -> None:
        """Report something a person should look at."""
        self._add(rule, Severity.WARNING, text, line)

    def note(self, rule: str, text: str, line: int) -> None:
        """Say what was done."""
        self._add(rule, Severity.NOTE, text, line)

    def refuse(self, rule: str, text: str, line: int) -> None:
        """Report an error with which no part may come out."""
        self._add(rule, Severity.ERROR, text, line)

    def keep(self, rule: str, text: str, line: int) -> None:
        """Report a line that cannot be translated and is kept as it stands."""
        self.kept.add(line)
        self._add(rule, Severity.WARNING, f"{text}; the line was kept as it stands", line)

    def _add(self, rule: str, severity: Severity, text: str, line: int) -> None:
        self.items.append(
            Remark(
                rule=rule,
                severity=severity,
                text=text,
                line=line,
                is_fatal=severity is Severity.ERROR,
                is_deviation=severity is Severity.WARNING,
            )
        )


def is_same(first: Item, second: Item) -> bool:
    """Tell whether two items are one feature, within 0.05 mm and 0.05 degrees."""
    return (
        first.leg == second.leg
        and first.kind == second.kind
        and first.words == second.words
        and _are_near(first.numbers, second.numbers)
        and len(first.ring) == len(second.ring)
        and same_ring(first.ring, second.ring)
    )


def _are_near(first: Sequence[float], second: Sequence[float]) -> bool:
    return len(first) == len(second) and all(
        abs(a - b) <= SAME_MM for a, b in zip(first, second, strict=True)
    )


def same_ring(first: Sequence[Corner], second: Sequence[Corner]) -> bool:
    """Tell whether two closed rings, run the same way, are one from whichever corner."""
    if len(first) != len(second):
        return False
    if not first:
        return True
    for shift, corner in enumerate(second):
        if _are_near(first[0][:2], corner[:2]) and all(
            _are_near(a[:2], b[:2]) and abs(a.bulge - b.bulge) <= _SAME_BULGE
            for a, b in zip(first, (*second[shift:], *second[:shift]), strict=True)
        ):
            return True
    return False


def same_items(first: Iterable[Item], second: Iterable[Item]) -> bool:
    """Tell whether two sets of items are the same features in whatever order."""
    cells: dict[tuple[str, str, int, int], list[Item]] = {}
    count = 0
    for item in second:
        cells.setdefault(_cell(item), []).append(item)
        count += 1
    for item in first:
        match = next(
            (
                (near, other)
                for key in _cells_around(_cell(item))
                for near in [cells.get(key, [])]
                for other in near
                if is_same(item, other)
            ),
            None,
        )
        if match is None:
            return False
        match[0].remove(match[1])
        count -= 1
    return count == 0


def _place(item: Item) -> tuple[float, float]:
    if item.ring:
        return min(c.x for c in item.ring), min(c.y for c in item.ring)
    return item.numbers[_X], item.numbers[_Y]


def _cell(item: Item) -> tuple[str, str, int, int]:
    x, y = _place(item)
    return item.leg, item.kind, round(x / _CELL_MM), round(y / _CELL_MM)


def _cells_around(cell: tuple[str, str, int, int]) -> Iterable[tuple[str, str, int, int]]:
    leg, kind, column, row = cell
    for dx in (0, -1, 1):
        for dy in (0, -1, 1):
            yield leg, kind, column + dx, row + dy


def merged(items: Iterable[Item], remarks: Remarks) -> tuple[Item, ...]:
    """Drop features given twice, and join countersinks to the holes they belong to."""
    cells: dict[tuple[str, str, int, int], list[int]] = {}
    result: list[Item] = []
    sinks: list[Item] = []
    for item in items:
        if item.kind == "sink":
            sinks.append(item)
            continue
        if item.kind not in ("hole", "slot", "mark"):
            result.append(item)
            continue
        near = [i for key in _cells_around(_cell(item)) for i in cells.get(key, [])[:_CROWD]]
        twin = next((i for i in near if is_same(result[i], item)), None)
        if twin is not None:
            _say_twin(item, result[twin], remarks)
            continue
        _say_rival(item, [result[i] for i in near], remarks)
        cells.setdefault(_cell(item), []).append(len(result))
        result.append(item)
    for sink in sinks:
        _join(sink, result, cells, remarks)
    return tuple(result)


def _say_twin(item: Item, first: Item, remarks: Remarks) -> None:
    x, y = _place(item)
    text = (
        f"the {item.kind} at x {x:.2f}, {y:.2f} from the heel is already given in line"
        f" {first.line}; it was taken once"
    )
    remarks.warn("nc-duplicate", text, item.line)


def _say_rival(item: Item, near: Sequence[Item], remarks: Remarks) -> None:
    """Warn of another hole of another size on the same centre."""
    x = _place(item)[0]
    for other in near:
        if other.kind == "hole" and _are_near(other.numbers[:2], item.numbers[:2]):
            text = (
                f"holes of {other.numbers[_DIAMETER]:g} and {item.numbers[_DIAMETER]:g} mm stand"
                f" on one centre at x {x:.2f}; both were kept (the other is line {other.line})"
            )
            remarks.warn("nc-same-centre", text, item.line)
            return


def _join(
    sink: Item,
    result: list[Item],
    cells: dict[tuple[str, str, int, int], list[int]],
    remarks: Remarks,
) -> None:
    """Join a countersink to the hole on its centre, or refuse it."""
    key = (sink.leg, "hole", *_cell(sink)[2:])
    x, _, diameter = sink.numbers
    for index in (i for k in _cells_around(key) for i in cells.get(k, ())):
        hole = result[index]
        if not _are_near(hole.numbers[:2], sink.numbers[:2]) or hole.numbers[_SINK]:
            continue
        if diameter <= hole.numbers[_DIAMETER]:
            text = (
                f"the countersink of {diameter:g} mm at x {x:.2f} is not wider than its hole of"
                f" {hole.numbers[_DIAMETER]:g} mm"
            )
            remarks.refuse("nc-countersink", text, sink.line)
            return
        numbers = (*hole.numbers[:_SINK], diameter)
        result[index] = hole._replace(numbers=numbers)
        text = (
            "countersinks were joined to the holes on their centres; their angles and depths are"
            " not in the file"
        )
        remarks.warn("nc-countersink", text, sink.line)
        return
    text = (
        f"the countersunk hole at x {x:.2f} has no plain hole on its centre: {diameter:g} mm may"
        " be the hole or the sink, so nothing was cut"
    )
    remarks.refuse("nc-countersink", text, sink.line)


class Outline(Struct, frozen=True, kw_only=True):
    """The outer contour of one leg, counter-clockwise with y from heel to toe."""

    line: int
    ring: tuple[Corner, ...]


class Layout(Struct, frozen=True, kw_only=True):
    """A piece under one reading of the open conventions.

    Attributes:
        items: the features in the file's order.
        outlines: outer contours by leg; a leg without one is plain.
        cuts: header cut angles in the model's sense, by (end, leg), of legs without a contour.
        remarks: what is to be said about it.
        kept: lines that could not be translated and are kept as they stand.
    """

    items: tuple[Item, ...]
    outlines: dict[LegName, Outline]
    cuts: dict[tuple[str, LegName], float]
    remarks: tuple[Remark, ...]
    kept: frozenset[int]

    def is_same(self, other: "Layout") -> bool:
        """Tell whether two readings give the same piece within 0.05 mm."""
        return (
            self.outlines.keys() == other.outlines.keys()
            and all(same_ring(o.ring, other.outlines[k].ring) for k, o in self.outlines.items())
            and all(abs(v - other.cuts.get(k, 0.0)) <= SAME_MM for k, v in self.cuts.items())
            and self.is_broken() == other.is_broken()
            and same_items(self.items, other.items)
        )

    def is_broken(self) -> bool:
        """Tell whether no piece comes out under this reading."""
        return any(r.is_fatal for r in self.remarks)
