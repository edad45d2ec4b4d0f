"""A text of separated values cut into records, with the place of every cell.

The standard library's reader tells no places and stops at the first fault. So it takes only
the rows it has nothing to say against; any other is walked through here, so that one bad row
does not hide the rest. ``tests/test_csv.py`` holds the two against each other.
"""

import csv
import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from msgspec import Struct

MOST_CELLS: Final = 256
"""Cells of one row that are taken apart."""

LONGEST_CELL: Final = 4_096
"""Characters of one cell."""

_LINE_END: Final = re.compile(r"\r\n|\n|\r")
_EMPTY_LINES: Final = re.compile(r"(?:\r\n|\n|\r)++")


class Cell(NamedTuple):
    """Text of a cell without blanks around it, and the offsets it stands between."""

    text: str
    start: int
    end: int


class ScanFault(Struct, frozen=True, kw_only=True):
    """What is wrong with a record.

    Attributes:
        rule: id of the finding.
        message: a sentence.
        start: offset in the record's text.
    """

    rule: str
    message: str
    start: int


class Record(NamedTuple):
    """One record: its first line, its text as it stands, its cells, and a fault of it.

    ``is_last`` tells that the fault lets nothing behind the record be read.
    """

    line: int
    raw: str
    cells: tuple[str, ...]
    fault: ScanFault | None = None
    is_last: bool = False


def records(text: str, delimiter: str) -> Iterator[Record]:
    """Cut a text into records; lines without any character are left out.

    Lines end at CR LF, LF or CR. A cell whose first character, blanks aside, is a quote runs
    to the closing quote, over line ends too, and "" in it stands for one quote; elsewhere a
    quote is an ordinary character, for inch marks are written with it.
    """
    at, line = 0, 1
    while at < len(text):
        empty = _EMPTY_LINES.match(text, at)
        if empty is not None:
            at = empty.end()
            line += _line_ends(empty.group())
            continue
        record, at = _next(text, at, line, delimiter)
        yield record
        if record.is_last:
            return
        line += 1 + _line_ends(record.raw)


def _line_ends(text: str) -> int:
    return text.count("\n") + text.count("\r") - text.count("\r\n")


def _next(text: str, at: int, line: int, delimiter: str) -> tuple[Record, int]:
    """Take the record that begins at an offset; return it and where the next one begins."""
    found = _LINE_END.search(text, at)
    end = len(text) if found is None else found.start()
    cells = _plain(text[at:end], delimiter)
    if cells is not None:
        record = _checked(line, text[at:end], cells)
    else:
        taken, end, fault, is_last = _taken(text, at, delimiter)
        found = _LINE_END.match(text, end)
        record = _checked(line, text[at:end], tuple(c.text for c in taken), fault, is_last)
    return record, end if found is None else found.end()


def _plain(raw: str, delimiter: str) -> tuple[str, ...] | None:
    """Take a line apart that has nothing unusual; None where it has to be walked through."""
    if '"' not in raw:
        return tuple(c.strip() for c in raw.split(delimiter, MOST_CELLS))
    try:
        cells = next(csv.reader((raw,), delimiter=delimiter, skipinitialspace=True, strict=True))
    except csv.Error:
        return None
    return tuple(c.strip() for c in cells)


def cells_of(raw: str, delimiter: str) -> tuple[Cell, ...]:
    """Cut the text of one record into cells with their offsets in it."""
    return tuple(_taken(raw, 0, delimiter)[0])


def _checked(
    line: int,
    raw: str,
    cells: tuple[str, ...],
    fault: ScanFault | None = None,
    is_last: bool = False,  # noqa: FBT001, FBT002 - a field of the record handed on
) -> Record:
    """Hold a record against the limits."""
    if len(cells) > MOST_CELLS:
        message = f"this row has more than {MOST_CELLS} cells, the most that are read"
        fault = ScanFault(rule="csv-row-too-wide", message=message, start=0)
        return Record(line, raw, cells[:MOST_CELLS], fault, is_last=True)
    if fault is None and len(raw) > LONGEST_CELL:
        long = next((c for c in cells if len(c) > LONGEST_CELL), None)
        if long is not None:
            message = f"a cell of {len(long):,} characters; the most are {LONGEST_CELL:,}"
            start = raw.find(long[:LONGEST_CELL])
            fault = ScanFault(rule="csv-cell-too-long", message=message, start=max(start, 0))
    return Record(line, raw, cells, fault, is_last)


def _taken(text: str, at: int, delimiter: str) -> tuple[list[Cell], int, ScanFault | None, bool]:
    """Take one record with quotes apart; return cells, its end, a fault, whether it is the last."""
    stop = re.compile(rf"{re.escape(delimiter)}|\r|\n")
    first, cells = at, list[Cell]()
    fault: ScanFault | None = None
    while len(cells) <= MOST_CELLS:
        start = at
        while text.startswith(" ", start):
            start += 1
        opened = text.startswith('"', start)
        inner, behind = _quoted(text, start) if opened else ("", start)
        if behind < 0:
            message = (
                f"the quote opened here is not closed within {LONGEST_CELL:,} characters;"
                " nothing behind it can be read"
            )
            fault = ScanFault(rule="csv-quote-open", message=message, start=start - first)
            return cells, len(text), fault, True
        found = stop.search(text, behind)
        end = len(text) if found is None else found.start()
        rest = text[behind:end].rstrip()
        if opened and rest and fault is None:
            message = (
                "text stands behind the closing quote of this cell; a quote inside of a quoted"
                ' cell is written twice, as in "1\'-4 1/2"""'
            )
            fault = ScanFault(rule="csv-quote-stray", message=message, start=start - first)
        shown = inner.strip() + rest if opened else rest
        cells.append(Cell(shown, start - first, behind + len(rest) - first))
        if found is None or found.group() != delimiter:
            return cells, end, fault, False
        at = found.end()
    return cells, at, fault, False


def _quoted(text: str, start: int) -> tuple[str, int]:
    """Return what stands between quotes, and the offset behind the closing one, or -1."""
    pieces, at, limit = list[str](), start + 1, start + 2 + LONGEST_CELL
    while (end := text.find('"', at, limit)) >= 0:
        if not text.startswith('""', end):
            pieces.append(text[at:end])
            return "".join(pieces), end + 1
        pieces.append(text[at : end + 1])
        at = end + 2
    return "", -1
