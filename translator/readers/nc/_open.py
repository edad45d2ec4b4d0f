"""The refusal of a piece that reads differently under settings that nothing decides."""

from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import Final

from translator.conventions import CHOICES
from translator.model import LegName, leg_width
from translator.readers.nc._book import Book
from translator.readers.nc._items import Item, Layout, is_same, same_ring
from translator.readers.nc._readings import Readings
from translator.readers.nc._records import Records

_IN_MESSAGE: Final = 6
_LISTED: Final = 100
_EDGE_MM: Final = 0.05

_Key = tuple[tuple[str, str], ...]


def refuse_open(records: Records, readings: Readings, book: Book, line: int) -> None:
    """Tell every reading of a piece side by side, and which settings decide.

    For each hole: gauge from the heel and distance from the toe under each reading.
    """
    shown = _representatives(readings)
    rows = [*_item_rows(records, shown), *_outline_rows(records, shown), *_cut_rows(records, shown)]
    rows.sort(key=lambda row: row[0])
    names = readings.deciding
    lines = " and ".join(
        f"{name} = " + " or ".join(f'"{value}"' for value in CHOICES[name][1:]) for name in names
    )
    settings = " and ".join(names)
    listed = "; ".join(text for _, text in rows[:_IN_MESSAGE])
    if len(rows) > _IN_MESSAGE:
        listed += f"; and {len(rows) - _IN_MESSAGE} more"
    text = (
        f"the piece reads differently under {settings}, and nothing settles which: {listed}."
        f" Compare with the drawing and put {lines} under [nc] in backmark.toml"
    )
    book.refuse("nc-reading-open", text, line, related=tuple(rows[:_LISTED]))


def _representatives(readings: Readings) -> dict[_Key, Layout]:
    """Keep one layout for each combination of the deciding settings."""
    shown: dict[_Key, Layout] = {}
    for key, layout in readings.layouts.items():
        short = tuple(pair for pair in key if pair[0] in readings.deciding)
        shown.setdefault(short, layout)
    return shown


def _told(places: Mapping[_Key, str]) -> str:
    """Write places with the readings that give them, naming only settings that matter."""
    keys = list(places)
    names = [name for name, _ in keys[0]]
    matter = [i for i in range(len(names)) if _matters(places, i)]
    shown: dict[_Key, str] = {}
    for key, place in places.items():
        shown.setdefault(tuple(key[i] for i in matter), place)
    return ", ".join(
        f"{place} if " + " and ".join(f'{name} is "{value}"' for name, value in key)
        for key, place in shown.items()
    )


def _matters(places: Mapping[_Key, str], index: int) -> bool:
    """Tell whether a change of one setting alone changes a place."""
    groups: dict[_Key, set[str]] = {}
    for key, place in places.items():
        groups.setdefault((*key[:index], *key[index + 1 :]), set()).add(place)
    return any(len(found) > 1 for found in groups.values())


def _item_rows(records: Records, shown: Mapping[_Key, Layout]) -> Iterable[tuple[int, str]]:
    """Yield (line, sentence) for each feature whose place differs."""
    by_line: dict[tuple[int, int], dict[_Key, Item]] = {}
    for key, layout in shown.items():
        seen: dict[int, int] = {}
        for item in layout.items:
            number = seen.get(item.line, 0)
            seen[item.line] = number + 1
            by_line.setdefault((item.line, number), {})[key] = item
    for (line, _), found in by_line.items():
        items = list(found.values())
        if len(items) == len(shown) and all(is_same(items[0], item) for item in items):
            continue
        places = {
            key: _place(records, found[key]) if key in found else "given twice or impossible"
            for key in shown
        }
        yield line, f"line {line}, {_what(items[0])}: {_told(places)}"


def _what(item: Item) -> str:
    leg = "the face" if item.leg == "face" else f"leg {item.leg}"
    if item.ring:
        return f"{item.kind} on {leg} at x {min(c.x for c in item.ring):.2f}"
    x = item.numbers[0]
    size = f" {item.numbers[2]:g}" if item.kind in ("hole", "sink", "slot") else ""
    return f"{item.kind}{size} on {leg} at x {x:.2f}"


def _place(records: Records, item: Item) -> str:
    """Say where an item stands: from the heel, and from the toe."""
    width = leg_width(records.section, item.leg)
    near, far = ("lower edge", "upper edge") if item.leg == "face" else ("heel", "toe")
    if item.ring:
        low, high = min(c.y for c in item.ring), max(c.y for c in item.ring)
        bulges = sum(c.bulge for c in item.ring)
        arcs = f", arcs turn {bulges:+.3f} in all" if any(c.bulge for c in item.ring) else ""
        return f"{low:.2f} to {high:.2f} from {near}{arcs}"
    y = item.numbers[1]
    turn = f", turned {item.numbers[4]:g} deg" if item.kind == "slot" else ""
    if item.kind == "stamp":
        turn = f", turned {item.numbers[3]:g} deg"
    return f"{y:.2f} from {near} and {width - y:.2f} from {far}{turn}"


def _outline_rows(records: Records, shown: Mapping[_Key, Layout]) -> Iterable[tuple[int, str]]:
    """Yield (line, sentence) for each outer contour that differs."""
    legs = sorted({leg for layout in shown.values() for leg in layout.outlines})
    for leg in legs:
        rings = [layout.outlines.get(leg) for layout in shown.values()]
        present = [outline for outline in rings if outline is not None]
        if len(present) == len(rings) and all(
            same_ring(present[0].ring, outline.ring) for outline in present
        ):
            continue
        places = {key: _kept(records, layout, leg) for key, layout in shown.items()}
        what = "outer contour of " + ("the face" if leg == "face" else f"leg {leg}")
        line = present[0].line
        yield line, f"line {line}, {what}: {_told(places)}"


def _kept(records: Records, layout: Layout, leg: LegName) -> str:
    """Say how much of each edge an outer contour keeps."""
    outline = layout.outlines.get(leg)
    if outline is None:
        return "impossible"
    width = leg_width(records.section, leg)
    kept = {0.0: 0.0, width: 0.0}
    for before, after in pairwise((*outline.ring, outline.ring[0])):
        for edge in kept:
            on_edge = max(abs(before.y - edge), abs(after.y - edge)) <= _EDGE_MM
            if on_edge and not before.bulge:
                kept[edge] += abs(after.x - before.x)
    near, far = ("lower edge", "upper edge") if leg == "face" else ("heel", "toe")
    arcs = sum(corner.bulge for corner in outline.ring)
    turned = f", arcs turn {arcs:+.3f}" if any(corner.bulge for corner in outline.ring) else ""
    return f"{kept[0.0]:.2f} left at the {near} and {kept[width]:.2f} at the {far}{turned}"


def _cut_rows(records: Records, shown: Mapping[_Key, Layout]) -> Iterable[tuple[int, str]]:
    """Yield (line, sentence) for each header cut angle whose hand differs."""
    keys = sorted({key for layout in shown.values() for key in layout.cuts})
    for end, leg in keys:
        values = [layout.cuts.get((end, leg), 0.0) for layout in shown.values()]
        if max(values) - min(values) <= _EDGE_MM:
            continue
        near, far = ("lower edge", "upper edge") if leg == "face" else ("heel", "toe")
        offset = (0 if leg != "b" else 2) + (0 if end == "start" else 1)
        line = records.header.lines[17 + offset]
        places = {
            key: f"long at the {far if value > 0 else near} by {abs(value):g} deg"
            for key, value in zip(shown, values, strict=True)
        }
        what = f"{end} cut of " + ("the face" if leg == "face" else f"leg {leg}")
        yield line, f"line {line}, {what}: {_told(places)}"
