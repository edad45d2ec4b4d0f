r"""Texts of a drawing: escaping, wrapping and a width to plan with.

Only TEXT entities are written, never MTEXT, so that braces and backslash codes of
paragraphs (``\P``) are plain letters. What a TEXT does read as a code is taken out of force:
``%%``, the caret and ``\U+``. A line end cannot get into a value, so no text can begin a new
group.
"""

import re
from bisect import bisect_right
from collections.abc import Iterable
from functools import lru_cache
from itertools import accumulate, repeat
from types import MappingProxyType
from typing import Final

from translator.lengths.parse import Unit
from translator.lengths.spell import feet_inch_text, length_text, mm_text
from translator.source import printable

LONGEST_TEXT: Final = 2000
"""Most characters that one text may have when escaped (the format's limit is 2,049 bytes)."""

MM_DECIMALS: Final = 3
"""A drawing tells millimetres to so many decimals; the file has them as sharp as the model."""

FOOT_MM: Final = 304.8
SIXTEENTH_MM: Final = 1.5875
_SAME_SHARE: Final = 1e-6
"""A step of the model's grid is more than two of these, in 1/64 in."""


_CODE: Final = re.compile(r"%%+|\^|\\(?=[UuMm]\+)")
_INDENT: Final = "  "
_INDENTED_ROOM: Final = 30.0
"""Lines are indented in a room of more letter heights than these."""

_NARROW: Final = " .,:;'|!iljIftr-/()[]"
_BROAD: Final = "mwMW@%"
_NARROW_WIDTH: Final = 0.65
_ORDINARY_WIDTH: Final = 0.9
_CAPITAL_WIDTH: Final = 1.12
_BROAD_WIDTH: Final = 1.45
_FOREIGN_WIDTH: Final = 1.7
"""Room for a letter, in text heights: for the broadest of the usual sans-serif fonts that stand
in for the style's own; the last is for letters that are not in ASCII."""

_ROOM: Final = MappingProxyType(
    {
        **{chr(number): _ORDINARY_WIDTH for number in range(32, 127)},
        **dict.fromkeys("ABCDEFGHIJKLMNOPQRSTUVWXYZ&#~<>=+_^", _CAPITAL_WIDTH),
        **dict.fromkeys(_NARROW, _NARROW_WIDTH),
        **dict.fromkeys(_BROAD, _BROAD_WIDTH),
    }
)


@lru_cache(maxsize=4096)
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


def fitted(text: str, room: float) -> tuple[str, ...]:
    """Break a text into lines that fit a room, as ``broken``; most texts are one line."""
    lines, wide = one_line(text)
    return lines if wide <= room else broken(text, room)


@lru_cache(maxsize=8192)
def one_line(text: str) -> tuple[tuple[str, ...], float]:
    """Return a text as it is set on one line, none when it is empty, and the room that takes.

    The room is in text heights, measured as ``broken`` does.
    """
    plain = printable(text)
    wide = 0.0
    for room in map(_ROOM.get, plain, repeat(_FOREIGN_WIDTH)):
        wide += room
    return ((plain,) if plain else ()), wide


@lru_cache(maxsize=4096)
def broken(text: str, room: float) -> tuple[str, ...]:
    """Break a text at blanks into lines that fit a room; later ones are indented.

    A word wider than the room is cut. An empty text gives no line.

    Args:
        text: what to break.
        room: width of the room in text heights, for three broad letters at least.
    """
    rest, indent = printable(text), ""
    own = room
    lines: list[str] = []
    while rest and (at := _fitting(rest, own)) < len(rest):
        blank = rest.rfind(" ", 1, at + 1)
        line, rest = (rest[:at], rest[at:]) if blank < 0 else (rest[:blank], rest[blank + 1 :])
        lines.append(indent + line)
        indent = _INDENT if room > _INDENTED_ROOM else ""
        own = room - width(indent)
    return (*lines, indent + rest) if rest else tuple(lines)


def _fitting(text: str, room: float) -> int:
    """Return how many letters of a text fit a room; one at least, and of a long one not all."""
    if len(text) * _FOREIGN_WIDTH < room:
        return len(text)
    most = max(1, int(room / _NARROW_WIDTH))
    # Measured no further than two letters past what may fit at all.
    rooms = accumulate(map(_ROOM.get, text[: most + 2], repeat(_FOREIGN_WIDTH)))
    fit = bisect_right(list(rooms), room)
    return fit if fit == len(text) else max(1, min(fit, most))


@lru_cache(maxsize=8192)
def width(text: str) -> float:
    """Return the room a line of text takes, in text heights; on the safe side."""
    return sum(map(_ROOM.get, text, repeat(_FOREIGN_WIDTH)))


@lru_cache(maxsize=4096)
def length(mm: float, units: Unit) -> str:
    """Spell a length in the part's units, to 0.001 mm; the same few come again and again."""
    if units == "mm":
        return mm_text(round(mm, MM_DECIMALS))
    text = length_text(mm, units)
    return f"{mm_text(round(mm, MM_DECIMALS))}mm" if text.endswith("mm") else text


@lru_cache(maxsize=4096)
def dimension(mm: float, units: Unit) -> str:
    """Spell a length as a dimension: from one foot on in feet and inches, else as a length."""
    if units == "inch" and abs(mm) >= FOOT_MM:
        feet = feet_inch_text(mm)
        if feet is not None:
            return feet
    return length(mm, units)


def is_exact(mm: float, units: Unit) -> bool:
    """Tell whether a length is one that a person would write: to 1/64 in. or 0.001 mm."""
    if units == "mm":
        return round(mm, MM_DECIMALS) == mm
    sixty_fourths = mm * (4.0 / SIXTEENTH_MM)
    return abs(sixty_fourths - round(sixty_fourths)) < _SAME_SHARE


def rounded(mm: float, units: Unit) -> float:
    """Return a length to the nearest 1/16 in. or 0.1 mm."""
    return round(mm / SIXTEENTH_MM) * SIXTEENTH_MM if units == "inch" else round(mm, 1)


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
