"""The comparison as text, as a checker would read it out."""

import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from translator.changes.model import WEIGHTS
from translator.changes.nc_terms import NOT_COMPARED
from translator.changes.shape_words import piece_length
from translator.changes.sides import Comparison, Entry, Side, mass_kg, pieces
from translator.findings import CAUTION
from translator.model import Part, Placed
from translator.pages._tables import many
from translator.pages._words import section_words
from translator.source import printable

WIDTH: Final = 100
"""Columns of the text."""

LEGEND: Final = (
    "metal: the shape is another; work: other steel, numbers or finish; paper: only words"
)

_WIDEST_MARK: Final = 16
_LB_PER_KG: Final = 2.20462262185
_TITLES: Final = (
    ("unread", "Could not be read or is on hold"),
    ("hand", "Check the hand"),
    ("changed", "Changed"),
    ("renamed", "Called otherwise"),
    ("merged", "Merged into another mark"),
    ("split", "Split off from another mark"),
    ("added", "Added"),
    ("removed", "Removed"),
    ("paper", "Changed on paper only"),
)


def render(comparison: Comparison) -> str:
    """Return the text of a comparison, no line wider than ``WIDTH``."""
    lines = [*_sides(comparison)]
    for group, title in _TITLES:
        own = [entry for entry in comparison.entries if _group(entry) == group]
        if own:
            lines += ["", f"{title} ({len(own)})", *_entries(group, own)]
    lines += ["", *summary(comparison)]
    if comparison.entries:
        lines += ["", LEGEND]
    lines += ["", *textwrap.wrap(CAUTION, WIDTH)]
    return "\n".join(printable(line) for line in lines) + "\n"


def _group(entry: Entry) -> str:
    if entry.told.hand:
        return "hand"
    if entry.status == "changed" and entry.weight == "paper":
        return "paper"
    return entry.status


def _sides(comparison: Comparison) -> Iterator[str]:
    for name, side in (("OLD", comparison.old), ("NEW", comparison.new)):
        yield from _wrapped(f"{name}  {side.name}: {side_words(side)}", "     ")


def side_words(side: Side) -> str:
    """Return how much a side holds."""
    words = f"{many(len(side.parts), 'part')}, {many(pieces(side.parts), 'piece')}"
    return f"{words}, {mass_kg(side.parts):,.1f} kg as billed"


def _entries(group: str, entries: Sequence[Entry]) -> Iterator[str]:
    if group == "paper":
        yield from _on_paper(entries)
        return
    room = min(max(len(label(entry, entries)) for entry in entries), _WIDEST_MARK)
    for entry in entries:
        mark = label(entry, entries)
        if len(mark) > room:
            yield f"  {mark}"
            mark = ""
        for index, line in enumerate(_lines(entry)):
            head = "  " + (mark if index == 0 else "").ljust(room) + "  "
            indent = " " * (len(head) + (7 if line[:7] in _PADDED else 2))
            yield from textwrap.wrap(
                head + line, WIDTH, subsequent_indent=indent, drop_whitespace=True
            )


_PADDED: Final = tuple(f"{weight:<7}" for weight in WEIGHTS)


def label(entry: Entry, among: Sequence[Entry]) -> str:
    """Return what a part is called: its mark, and the order too where the mark alone is unclear."""
    mark = entry.mark or entry.path
    placed = entry.new or entry.old
    if placed is None or not placed.part.order:
        return mark
    is_clear = sum(1 for other in among if other.mark == entry.mark) == 1
    return mark if is_clear else f"{mark} ({placed.part.order})"


def _lines(entry: Entry) -> Iterator[str]:
    """Yield what is said of a part, each change on a line."""
    yield from unread_words(entry)
    if entry.told.hand:
        yield entry.told.hand
    if entry.status in ("added", "removed", "merged", "split"):
        placed = entry.new or entry.old
        if placed is not None:
            yield piece_words(placed)
    for change in told_in_order(entry):
        yield f"{change[0]:<7}{change[1]}"
    yield from entry.remarks


def told_in_order(entry: Entry) -> list[tuple[str, str]]:
    """Return weight and words of each change of a part, the heaviest first, without roundings."""
    changes = [c for c in entry.told.changes if c.weight != "rounding"]
    ordered = sorted(changes, key=lambda c: (c.kind != "turned", WEIGHTS.index(c.weight)))
    return [(change.weight, change.text) for change in ordered]


def unread_words(entry: Entry) -> Iterator[str]:
    """Yield what could not be read, or is on hold, on which side and why."""
    for name, fault in zip(("OLD", "NEW"), entry.unread, strict=True):
        if fault is not None:
            yield f"{fault.what} in {name}: {fault.path}:{fault.line}: {fault.why}"
    if entry.status == "unread":
        for name, placed in (("OLD", entry.old), ("NEW", entry.new)):
            if placed is not None:
                yield f"{name} has {piece_words(placed)}"


def piece_words(placed: Placed) -> str:
    """Return what a piece is and where it stands."""
    part, span = placed.part, placed.places[""]
    return f"{_piece(part)} ({span.path}:{span.line})"


def _piece(part: Part) -> str:
    name = section_words(part).partition(" (")[0]
    return f"{name}, {piece_length(part.length_mm, part)} long, {many(part.quantity, 'piece')}"


def _on_paper(entries: Sequence[Entry]) -> Iterator[str]:
    """Yield words that changed alike in many parts once, with the marks."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for entry in entries:
        words = tuple(text for _, text in told_in_order(entry))
        groups.setdefault((*words, *entry.remarks), []).append(label(entry, entries))
    for words, marks in groups.items():
        yield from _wrapped(f"  {', '.join(marks)}", "  ")
        for text in words:
            yield from _wrapped(f"    {text}", "      ")


def summary(comparison: Comparison) -> Iterator[str]:
    """Yield the closing lines: counts, pieces and mass, and what was not compared."""
    yield from _wrapped(counts_words(comparison))
    yield from _wrapped(mass_words(comparison))
    for words in remarks(comparison):
        yield from _wrapped(words)


def counts_words(comparison: Comparison) -> str:
    """Return how many parts changed in which way."""
    counts = comparison.counts()
    words = []
    if counts["changed"]:
        kinds = [
            f"{counts[f'changed: {weight}']} {name}"
            for weight, name in (("metal", "metal"), ("work", "work"), ("paper", "paper only"))
            if counts[f"changed: {weight}"]
        ]
        words.append(f"{counts['changed']} changed ({', '.join(kinds)})")
    words += [
        f"{counts[status]} {name}"
        for status, name in (
            ("renamed", "called otherwise"),
            ("merged", "merged"),
            ("split", "split off"),
            ("added", "added"),
            ("removed", "removed"),
        )
        if counts[status]
    ]
    if counts["unread"]:
        words.append(f"{counts['unread']} not compared (could not be read or on hold)")
    same = len(comparison.unchanged) + len(comparison.rounded)
    aside = len(comparison.not_issued)
    rest = [f"{aside} not issued again"] if aside else []
    if not words:
        return f"{', '.join([f'No change in {many(same, _PART)}', *rest])}."
    return f"{', '.join([*words, f'{same} unchanged', *rest])}."


_PART: Final = "part"


def mass_words(comparison: Comparison) -> str:
    """Return how pieces and mass changed."""
    lost = [entry for entry in comparison.entries if entry.status == "unread"]
    aside = {id(placed) for placed in comparison.not_issued}
    aside |= {id(placed) for entry in lost for placed in (entry.old, entry.new)}
    old = [placed for placed in comparison.old.parts if id(placed) not in aside]
    new = [placed for placed in comparison.new.parts if id(placed) not in aside]
    one, two = mass_kg(old), mass_kg(new)
    count = f"{pieces(old):,} pieces became {pieces(new):,}"
    if lost:
        count = f"Without what could not be read or is on hold: {count}"
    if round(one, 1) == round(two, 1):
        return f"{count}; {two:,.1f} kg as billed, as before."
    more = two - one
    share = f", {more / one:+.1%}" if one else ""
    return (
        f"{count}; {one:,.1f} kg as billed became {two:,.1f} kg"
        f" ({more:+,.1f} kg, {more * _LB_PER_KG:+,.1f} lb{share})."
    )


def remarks(comparison: Comparison) -> Iterator[str]:
    """Yield what else is to be said of a comparison, in sentences."""
    if comparison.rounded or comparison.largest_rounding_mm:
        most = comparison.largest_rounding_mm
        yield f"Some figures differ by up to {most:.3g} mm, which is rounding and no change."
    if comparison.in_nc_terms:
        count = many(len(comparison.in_nc_terms), "part")
        verb = "is" if len(comparison.in_nc_terms) == 1 else "are"
        yield f"{count} {verb} an NC file on one side only; not compared there: {NOT_COMPARED}."
    for name, side in (("OLD", comparison.old), ("NEW", comparison.new)):
        if side.not_ours:
            path, why = side.not_ours[0]
            more = f" and {len(side.not_ours) - 1} more" if len(side.not_ours) > 1 else ""
            yield f"Not for this tool in {name}: {path} ({why}){more}."
        if side.doubtful:
            more = f" and {len(side.doubtful) - 1} more" if len(side.doubtful) > 1 else ""
            yield f"Not all of {side.doubtful[0]}{more} could be read in {name}."
    for words in comparison.remarks:
        yield f"{words}."


def _wrapped(text: str, indent: str = "") -> list[str]:
    plain = printable(text)  # before it is cut: a line end in a file name begins no line
    return textwrap.wrap(plain, WIDTH, subsequent_indent=indent, break_on_hyphens=False)
