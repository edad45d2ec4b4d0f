r"""Texts of a drawing: escaping, wrapping and a width to plan with.

Only TEXT entities are written, never MTEXT, so that braces and backslash codes of
paragraphs (``\P``) are plain letters. What a TEXT does read as a code is taken out of force:
``%%``, the caret and ``\U+``. A line end cannot get into a value, so no text can begin a new
group.
"""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Final

from translator.lengths.parse import Unit
from translator.lengths.spell import length_text
from translator.source import printable

LONGEST_TEXT: Final = 2000
"""Most characters that one text may have when escaped (the format's limit is 2,049 bytes)."""

_CODE: Final = re.compile(r"%%+|\^|\\(?=[UuMm]\+)")
_INDENT: Final = "    "

_BROAD: Final = "mwMW@%"
_ORDINARY_WIDTH: Final = 0.95
_BROAD_WIDTH: Final = 1.4
_FOREIGN_WIDTH: Final = 1.7
"""Room for a letter, in text heights; the last is for letters that are not in ASCII."""


def escaped(text: str) -> str:
    """Return a text as the value of a TEXT entity: it reads back as written.

    A character without a glyph (control, line separator, bidirectional mark, lone surrogate)
    is shown by its number instead.
    """
    plain = printable(text)
    return _CODE.sub(_plain_code, plain) if _CODE.search(plain) else plain


def _plain_code(code: re.Match[str]) -> str:
    if code[0][0] == "%":
        return "%%%" * len(code[0])
    return "^ " if code[0] == "^" else r"\U+005C"


def wrapped(text: str, columns: int) -> Iterator[str]:
    """Break a text at blanks into lines of so many characters at most; later ones are indented.

    A word longer than a line is cut. An empty text gives no line.
    """
    rest, indent = printable(text), ""
    while len(indent) + len(rest) > columns:
        room = columns - len(indent)
        at = rest.rfind(" ", 1, room + 1)
        line, rest = (rest[:room], rest[room:]) if at < 0 else (rest[:at], rest[at + 1 :])
        yield indent + line
        indent = _INDENT
    if rest:
        yield indent + rest


def width(text: str) -> float:
    """Return the room a line of text takes, in text heights; on the safe side."""
    if not text.isascii():
        return _FOREIGN_WIDTH * len(text)
    broad = sum(map(text.count, _BROAD))
    return _ORDINARY_WIDTH * len(text) + (_BROAD_WIDTH - _ORDINARY_WIDTH) * broad


@lru_cache(maxsize=4096)
def length(mm: float, units: Unit) -> str:
    """Spell a length in the part's units; the same few come again and again in one delivery."""
    return length_text(mm, units)


def ranges(names: Iterable[str]) -> str:
    """Name many features shortly: ``a1 to a4, a7``; names that only differ by a running number.

    Two in a row stay two names.
    """
    runs: list[list[str]] = []
    for name in names:
        if runs and _is_next(runs[-1][-1], name):
            runs[-1].append(name)
        else:
            runs.append([name])
    words = (
        f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run)  # noqa: PLR2004
        for run in runs
    )
    return ", ".join(words)


def _is_next(name: str, other: str) -> bool:
    stem, number = _split(name)
    other_stem, other_number = _split(other)
    return stem == other_stem and number >= 0 and other_number == number + 1


def _split(name: str) -> tuple[str, int]:
    stem = name.rstrip("0123456789")
    digits = name[len(stem) :]
    if not digits or (digits[0] == "0" and len(digits) > 1):
        return name, -1
    return stem, int(digits)
