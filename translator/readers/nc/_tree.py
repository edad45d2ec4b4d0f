"""What the bytes of a file turn into: numbered lines, sorted by what they are.

Nothing is interpreted here that a setting could change: numbers stay text.
"""

from typing import Final

from msgspec import Struct, field

from translator.findings import Severity

PROFILES: Final = ("I", "L", "U", "B", "RU", "RO", "M", "C", "T", "SO")
"""Profile codes of the header's line 8."""

CODES: Final = frozenset(
    ("ST", "EN", "BO", "SI", "AK", "IK", "PU", "KO", "SC", "KA", "UE", "PR", "TO")
) | frozenset(f"E{digit}" for digit in range(10))
"""Block codes of the 7th edition."""

ROW_CODES: Final = frozenset(("BO", "SI", "AK", "IK", "PU", "KO"))
"""Blocks whose rows are translated; the rows of all others are carried as they stand."""

FIELDS: Final = 20
"""Header lines with a fixed meaning; up to four lines of text follow."""


class Line(Struct, frozen=True, kw_only=True):
    """One line of the file: its number from 1 and its text without the line end."""

    number: int
    text: str


class Remark(Struct, frozen=True, kw_only=True):
    """Something to be said about a line; equal remarks become one finding.

    Attributes:
        rule: id of the finding.
        severity: error, warning or note.
        text: the sentence, without a full stop.
        line: number of the line.
        column: first character, from 1.
        end_column: behind the last character; None means the end of the line.
        is_deviation: the file departs from the standard; an error in strict mode.
        is_fatal: no part may come out of the file.
        related: further lines, each with a word on why.
    """

    rule: str
    severity: Severity
    text: str
    line: int
    column: int = 1
    end_column: int | None = None
    is_deviation: bool = False
    is_fatal: bool = False
    related: tuple[tuple[int, str], ...] = ()


class Block(Struct, frozen=True, kw_only=True):
    """One block: its code in capitals, the line of the code, and the rows below it."""

    code: str
    at: Line
    rows: tuple[Line, ...]


class Sheet(Struct, frozen=True, kw_only=True):
    """What stands between one ST and its EN.

    Attributes:
        start, end: numbers of the first and the last line.
        frame: the lines of ST and EN.
        fields: header lines 1 to 20 in order, None where the line is missing; empty when no
            header could be found.
        profile: the profile code in capitals, "" when none was found.
        texts: header text lines, from 21 on.
        blocks: all other blocks in order.
        comments: comment lines.
        strays: lines that have no place in the format but are kept.
    """

    start: int
    end: int
    frame: tuple[Line, ...] = ()
    fields: tuple[Line | None, ...] = ()
    profile: str = ""
    texts: tuple[Line, ...] = ()
    blocks: tuple[Block, ...] = ()
    comments: tuple[Line, ...] = ()
    strays: tuple[Line, ...] = ()


class Tree(Struct, frozen=True, kw_only=True):
    """A whole file.

    Attributes:
        path: name it is reported under.
        lines: every line.
        sheets: one for each ST..EN.
        remarks: what was found on the way.
        newline: the line end that occurs first, "" when there is none.
    """

    path: str
    lines: tuple[Line, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    remarks: tuple[Remark, ...] = field(default=())
    newline: str = "\n"
