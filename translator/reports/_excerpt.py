"""The source line a finding speaks of, with a mark under the place."""

import unicodedata
from typing import Final

from translator.source import Span, printable, whole_file

_INDENT: Final = "    "
_TAB: Final = 4
_CUT: Final = "..."
_NARROWEST: Final = 20


def excerpt(span: Span, lines: list[str], width: int) -> tuple[str, str] | None:
    """Return the line at a place and the carets under it, both indented; None without a line.

    Args:
        span: the place. One that goes on over several lines is marked to its first line's end.
        lines: all lines of that source.
        width: columns to stay within; a longer line is cut to what lies around the place.
    """
    if span == whole_file(span.path) or not 1 <= span.line <= len(lines):
        return None
    line = lines[span.line - 1]
    start = min(max(span.column - 1, 0), len(line))
    end = span.end_column - 1 if span.end_line == span.line else len(line)
    room = max(width, _NARROWEST) - len(_INDENT) - 2 * len(_CUT)
    first, last = _window(line, start, room)
    head = _shown(line[first:start], 0)
    stop = max(start, min(end, last))
    middle = _shown(line[start:stop], _columns(head))
    tail = _shown(line[stop:last], _columns(head + middle))
    before = _CUT if first else ""
    after = _CUT if last < len(line) else ""
    blank = " " * (len(before) + _columns(head))
    carets = "^" * max(1, _columns(middle))
    text = f"{before}{head}{middle}{tail}{after}".rstrip()
    return _INDENT + text, _INDENT + blank + carets


def _window(line: str, start: int, room: int) -> tuple[int, int]:
    """Return the stretch of the line to show: all of it if it fits, else around the place."""
    if _reach(line, 0, room) == len(line):
        return 0, len(line)
    first, used = start, 0
    while first > 0 and (used := used + _width_of(line[first - 1])) <= room // 3:
        first -= 1
    return first, _reach(line, first, room)


def _reach(line: str, first: int, room: int) -> int:
    """Return how far the line goes from an index on within so many columns."""
    if _is_plain(line):
        return min(first + room, len(line))
    last, used = first, 0
    while last < len(line) and (used := used + _width_of(line[last])) <= room:
        last += 1
    return last


def _shown(text: str, column: int) -> str:
    """Return text as shown from a column on: tabs as blanks, what has no glyph by number."""
    if _is_plain(text):
        return text
    pieces: list[str] = []
    for character in text:
        piece = " " * (_TAB - column % _TAB) if character == "\t" else printable(character)
        column += _columns(piece)
        pieces.append(piece)
    return "".join(pieces)


def _is_plain(text: str) -> bool:
    """Tell whether every sign is shown as itself and takes one column."""
    return text.isascii() and text.isprintable()


def _width_of(character: str) -> int:
    return _TAB if character == "\t" else _columns(printable(character))


def _columns(text: str) -> int:
    """Return the columns that printable text takes on a terminal."""
    if text.isascii():
        return len(text)
    return sum(_columns_of(character) for character in text)


def _columns_of(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1
