"""Rows of SI: letters to be stamped."""

import re
from collections.abc import Iterable
from typing import Final

from translator.readers.nc._figures import Row, Scanner
from translator.readers.nc._inch import Nominal
from translator.readers.nc._records import StampRecord, Track, without_letters
from translator.readers.nc._tree import Block

_FIGURES: Final = 3
_TEXT: Final = re.compile(r"\s*(\d+(?:[.,]\d+)?|[.,]\d+)(r?)(\s*)(.*?)\s*")
_LOOSE_FLAG: Final = re.compile(r"r\s+\S")
_LONGEST_TEXT: Final = 1000


def read_stamps(
    block: Block, scanner: Scanner, nominal: Nominal, *, is_flat: bool
) -> Iterable[StampRecord]:
    """Yield the stamps of one block; rows that cannot be read are errors in the book."""
    track = Track(book=scanner.book, is_flat=is_flat)
    for line in block.rows:
        read = scanner.row(line, _FIGURES)
        if read is None:
            continue
        row, end = read
        if len(row.figures) < _FIGURES:
            text = "a stamp needs x, y, angle, height and text"
            scanner.book.refuse("nc-row-unreadable", text, line.number)
            continue
        track.say_carried(row)
        record = _record(row, line.text[end:], track, nominal)
        if record is not None:
            scanner.book.translate(line.number)
            yield record


def _record(row: Row, rest: str, track: Track, nominal: Nominal) -> StampRecord | None:
    book, number = track.book, row.line.number
    view = track.view_of(row)
    ref = track.ref_of(row, row.figures[0].letters)
    if view is None or ref is None or not without_letters(row, 1, book):
        return None
    match = _TEXT.fullmatch(rest.replace("\t", " "))
    if match is None:
        text = f"behind the angle of a stamp stand its height and text, here {rest.strip()[:20]!r}"
        book.refuse("nc-row-unreadable", text, number)
        return None
    height = float(match[1].replace(",", "."))
    if "," in match[1]:
        book.odd("nc-decimal-comma", "decimal commas instead of points", number)
    text, may_move = match[4], match[2] == "r"
    if not text or height <= 0.0 or len(text) > _LONGEST_TEXT:
        reason = "no text" if not text else f"the height {height:g} mm"
        if len(text) > _LONGEST_TEXT:
            reason = f"a text of {len(text)} characters"
        said = f"a stamp has {reason}; it was not translated and the line was kept as it stands"
        book.warn("nc-stamp", said, number)
        book.carry(number)
        return None
    if not may_move and match[3] and _LOOSE_FLAG.match(text):
        said = (
            "an r stands apart behind the height: the flag that lets a machine move the text, or"
            f" part of the text, cannot be told; read strictly, the text is {text!r}"
        )
        book.warn("nc-stamp-flag", said, number)
    return StampRecord(
        line=number,
        view=view,
        ref=ref,
        x=nominal.position(row.figures[0].value),
        y=nominal.size(row.figures[1].value),
        angle=row.figures[2].value,
        height=nominal.size(height),
        may_move=may_move,
        text=text,
    )
