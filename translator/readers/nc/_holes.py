"""Rows of BO: holes, slots and marks."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from translator.readers.nc._figures import Figure, Row, Scanner
from translator.readers.nc._inch import Nominal
from translator.readers.nc._records import HoleKind, HoleRecord, Track, too_many, without_letters
from translator.readers.nc._tree import Block

_KINDS: Final[Mapping[str, HoleKind]] = MappingProxyType(
    {
        "": "plain",
        "g": "tapped-right",
        "l": "tapped-left",
        "m": "mark",
        "s": "countersink",
    }
)
_FEWEST: Final = 3
_MOST: Final = 7
_DEPTH: Final = 3
_SLOT: Final = 4
_SMALL_MM: Final = 3.0


def read_holes(
    block: Block, scanner: Scanner, nominal: Nominal, *, is_flat: bool
) -> Iterable[HoleRecord]:
    """Yield the holes of one block; rows that cannot be read are errors in the book."""
    track = Track(book=scanner.book, is_flat=is_flat)
    for line in block.rows:
        read = scanner.row(line)
        if read is None:
            continue
        row = too_many(read[0], _MOST, scanner.book)
        if len(row.figures) < _FEWEST:
            text = f"a hole needs x, y and diameter; the row has {len(row.figures)} figures"
            scanner.book.refuse("nc-row-unreadable", text, line.number)
            continue
        track.say_carried(row)
        record = _record(row, track, nominal)
        if record is not None:
            scanner.book.translate(line.number)
            yield record


def _record(row: Row, track: Track, nominal: Nominal) -> HoleRecord | None:
    figures, number = row.figures, row.line.number
    view = track.view_of(row)
    ref = track.ref_of(row, figures[0].letters)
    kind = _kind(row, track)
    if view is None or ref is None or kind is None or not without_letters(row, _SLOT, track.book):
        return None
    depth, slot = _depth(row, track)
    if depth is None or (slot and not _is_plain_slot(row, kind, track)):
        return None
    x, y, diameter = (figure.value for figure in figures[:_FEWEST])
    kind = _checked(row, kind, diameter, depth, track)
    if kind is None:
        return None
    width, height, angle = (*(f.value for f in figures[_SLOT:]), 0.0, 0.0, 0.0)[:3]
    return HoleRecord(
        line=number,
        view=view,
        ref=ref,
        x=nominal.position(x),
        y=nominal.size(y),
        diameter=nominal.size(diameter),
        kind=kind,
        depth=nominal.size(depth),
        is_slot=slot,
        width=nominal.size(width) if slot else 0.0,
        height=nominal.size(height) if slot else 0.0,
        angle=angle if slot else 0.0,
    )


def _kind(row: Row, track: Track) -> HoleKind | None:
    """Return what the letter behind y or diameter says."""
    letters = {figure.letters for figure in row.figures[1:_FEWEST]} - {""}
    letter = letters.pop() if letters else ""
    if letters or letter not in _KINDS:
        shown = ", ".join(sorted({letter, *letters}))
        text = f"{shown!r} behind y or diameter is no kind of hole (g, l, m or s)"
        track.book.refuse("nc-row-unreadable", text, row.line.number)
        return None
    return _KINDS[letter]


def _depth(row: Row, track: Track) -> tuple[float | None, bool]:
    """Return depth (0 is through, None is an error) and whether a slot follows."""
    book, number = track.book, row.line.number
    if len(row.figures) <= _DEPTH:
        text = "the depth is missing; the hole was taken as through"
        book.odd("nc-depth-missing", text, number)
        return 0.0, False
    figure = row.figures[_DEPTH]
    if figure.letters not in ("", "l"):
        text = f"{figure.letters!r} behind the depth is no letter that the format knows there"
        book.refuse("nc-row-unreadable", text, number, figure.column)
        return None, False
    if figure.value < 0.0:
        text = f"depth {figure.value:g} mm is less than 0"
        book.refuse("nc-hole", text, number, figure.column)
        return None, False
    return _slot(row, figure, track)


def _slot(row: Row, depth: Figure, track: Track) -> tuple[float | None, bool]:
    sizes = [f.value for f in row.figures[_SLOT : _SLOT + 2]]
    book, number = track.book, row.line.number
    if any(size < 0.0 for size in sizes):
        text = f"slot width or height {min(sizes):g} mm is less than 0"
        book.refuse("nc-hole", text, number)
        return None, False
    if depth.letters == "l" and not any(sizes):
        text = "a slot of no width and no height is a round hole"
        book.odd("nc-slot-round", text, number)
        return depth.value, False
    if not depth.letters and any(sizes):
        text = (
            f"slot width {sizes[0]:g} is given, but the letter l that makes a slot is missing"
            " behind the depth; round hole or slot cannot be told"
        )
        book.refuse("nc-hole", text, number)
        return None, False
    return depth.value, depth.letters == "l"


def _is_plain_slot(row: Row, kind: HoleKind, track: Track) -> bool:
    if kind == "plain":
        return True
    text = f"a slot cannot also be a {kind} hole"
    track.book.refuse("nc-hole", text, row.line.number)
    return False


def _checked(
    row: Row, kind: HoleKind, diameter: float, depth: float, track: Track
) -> HoleKind | None:
    """Hold a hole's diameter against its kind; a plain hole of diameter 0 is a mark."""
    book, number = track.book, row.line.number
    if kind == "mark":
        if diameter or depth:
            text = "marks have a diameter or a depth; a centre mark has neither, so it was left out"
            book.odd("nc-mark-size", text, number)
        return kind
    if diameter < 0.0:
        book.refuse("nc-hole", f"diameter {diameter:g} mm is less than 0", number)
        return None
    if diameter == 0.0 and kind == "plain" and row.figures[_DEPTH:][:1] != ():
        is_slot = row.figures[_DEPTH].letters == "l"
        if is_slot:
            book.refuse("nc-hole", "the slot's diameter is 0", number)
            return None
    if diameter == 0.0:
        if kind != "plain":
            book.refuse("nc-hole", f"the diameter of a {kind} hole is 0", number)
            return None
        text = "holes of diameter 0 without the letter m were taken as centre marks"
        book.warn("nc-hole-as-mark", text, number)
        return "mark"
    if kind == "plain" and diameter <= _SMALL_MM and depth > 0.0:
        text = (
            f"blind holes of {_SMALL_MM:g} mm or less may be meant as centre marks; kept as holes"
        )
        book.warn("nc-hole-as-mark", text, number)
    return kind
