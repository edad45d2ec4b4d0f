"""Source text and the places in it."""

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

from msgspec import Struct, field

_LINE_END: Final = re.compile(r"\r\n|\n|\r")


class Source(Struct, frozen=True, kw_only=True):
    """The bytes of one input and the name they are reported under.

    Attributes:
        path: what a finding prints; "-" for standard input. Always with forward slashes.
        data: the bytes as they were read, never altered.
        library: path -> bytes of the other files that this one uses, and that these use.
        unread: path -> why such a file could not be read.
    """

    path: str
    data: bytes
    library: Mapping[str, bytes] = field(default_factory=lambda: _NO_FILES)
    unread: Mapping[str, str] = field(default_factory=lambda: _NO_REASONS)


_NO_FILES: Final[Mapping[str, bytes]] = MappingProxyType({})
_NO_REASONS: Final[Mapping[str, str]] = MappingProxyType({})


class Span(NamedTuple):
    """A place in a source: lines and columns count from 1, columns in characters.

    ``end_column`` is the column behind the last character. A fault of a whole file has
    line 1, column 1 and an empty extent.
    """

    path: str
    line: int
    column: int
    end_line: int
    end_column: int


def whole_file(path: str) -> Span:
    """Return the place that stands for a file as a whole."""
    return Span(path, 1, 1, 1, 1)


def decode(data: bytes) -> tuple[str, str]:
    """Decode text bytes: UTF-8 (with or without mark) strictly, else Windows-1252.

    Returns:
        The text without a byte-order mark, and the name of the encoding used. Bytes that
        Windows-1252 leaves open become the Latin-1 control characters of the same number.
    """
    try:
        return data.decode("utf-8-sig"), "utf-8"
    except UnicodeDecodeError:
        return "".join(_one_byte(b) for b in data), "windows-1252"


def _one_byte(value: int) -> str:
    try:
        return bytes((value,)).decode("cp1252")
    except UnicodeDecodeError:
        return chr(value)


def lines_of(text: str) -> list[str]:
    """Split text into its lines as findings count them: at CR LF, LF or CR, nothing else."""
    return _LINE_END.split(text)


def printable(text: str) -> str:
    r"""Escape what must not reach a terminal or a page: control, bidi and unseen characters.

    A character that has no glyph of its own is shown by its number (``\x1b``, ``\u202e``),
    so that text out of a hostile file can neither move the cursor nor turn the line around.
    Everything that can be seen, and the plain blank, stays.
    """
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else _escape(ord(c)) for c in text)


def _escape(number: int) -> str:
    if number <= 0xFF:  # noqa: PLR2004 - two digits hold it
        return f"\\x{number:02x}"
    return f"\\u{number:04x}" if number <= 0xFFFF else f"\\U{number:08x}"  # noqa: PLR2004
