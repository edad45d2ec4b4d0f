"""Lengths and counts in the words of a bar list, in the author's units."""

from functools import lru_cache
from typing import Final, Literal

from translator.lengths.spell import feet_inch_text, inch_text

Units = Literal["mm", "inch"]

_MM_PER_INCH: Final = 25.4
_MM_PER_FOOT: Final = 304.8
_MM_PER_M: Final = 1000.0


@lru_cache(maxsize=4096)
def length_words(mm: float, units: Units) -> str:
    """Return a length of steel: feet and inches as a fraction, or millimetres, with its unit.

    What is no whole number of 1/64 in. is told in millimetres where it is a whole number of
    them, as metric stock is, else in inches to 0.001; millimetres to 0.01.
    """
    fraction = feet_inch_text(mm)
    if units == "mm" or (fraction is None and mm == round(mm)):
        return f"{decimal(mm, 2)} mm"
    return fraction or f'{decimal(mm / _MM_PER_INCH, 3)}"'


def total_words(mm: float, units: Units) -> str:
    """Return a sum of many lengths, in feet or in metres, so that a row can be added up."""
    if units == "inch":
        return f"{mm / _MM_PER_FOOT:.2f} ft"
    return f"{mm / _MM_PER_M:.3f} m"


def size_words(mm: float, units: Units) -> str:
    """Return a size across: inches as a fraction without feet, or millimetres."""
    if units == "mm":
        return f"{decimal(mm, 2)} mm"
    return f"{inch_text(mm) or decimal(mm / _MM_PER_INCH, 3)} in."


def tool_words(mm: float, units: Units) -> str:
    """Return a size of a tool or a gauge: inches only where it is a fraction, else millimetres.

    A shop that works in inches has metric punches all the same, and sets metric gauges.
    """
    fraction = inch_text(mm) if units == "inch" else None
    return f"{decimal(mm, 2)} mm" if fraction is None else f"{fraction} in."


def decimal(value: float, places: int) -> str:
    """Return a number with at most so many places and no trailing zeros."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def many(number: int, thing: str) -> str:
    """Return a number and what it counts, in the plural unless it is one."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
