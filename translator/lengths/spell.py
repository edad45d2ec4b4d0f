"""Write a length as a drafter would, so that reading it gives the same length.

Values are millimetres on the part model's grid of 0.000001 mm; anything finer is rounded to
it first.
"""

import math
from fractions import Fraction
from typing import Final

from translator.lengths.parse import FINEST_DENOMINATOR, INCH, INCHES_PER_FOOT, Unit

_GRID_DECIMALS: Final = 6
_STEPS_PER_64TH: Final = 396_875
"""Steps of the grid in 1/64 in., exactly."""
_INCH_DECIMALS: Final = 4


def mm_text(mm: float | Fraction) -> str:
    """Return millimetres as a plain decimal without trailing zeros, without a unit."""
    return _decimal(_on_grid(mm), _GRID_DECIMALS)


def inch_text(mm: float | Fraction) -> str | None:
    """Return inches as ``11-1/2``, ``3/8`` or ``11``, without a mark.

    Returns:
        None for a length that is not a whole number of 1/64 in.
    """
    parts, rest = divmod(steps(mm, _GRID_DECIMALS), _STEPS_PER_64TH)
    return None if rest else _sixty_fourths(parts, "-")


def is_64th(mm: float | Fraction) -> bool:
    """Tell whether a length is a whole number of 1/64 in.: whether ``inch_text`` can spell it."""
    return steps(mm, _GRID_DECIMALS) % _STEPS_PER_64TH == 0


def feet_inch_text(mm: float | Fraction) -> str | None:
    """Return feet and inches as ``9'-4 1/2"``; under one foot inches only, as ``4 1/2"``.

    A whole foot shows its zero: ``1'-0"``.

    Returns:
        None for a length that is not a whole number of 1/64 in.
    """
    inches = _on_grid(mm) / INCH
    size = abs(inches)
    feet = size // INCHES_PER_FOOT
    rest = _inches(size - feet * INCHES_PER_FOOT, " ")
    if rest is None:
        return None
    if feet and rest[0] != "0" and "/" in rest and " " not in rest:
        rest = f"0 {rest}"
    sign = "-" if inches < 0 else ""
    return f"{sign}{feet}'-{rest}\"" if feet else f'{sign}{rest}"'


def length_text(mm: float | Fraction, units: Unit) -> str:
    """Return the shortest usual spelling that reads back, bare numbers taking ``units``.

    Under inches: a fraction to 1/64, else a decimal of up to four places if it is exact,
    else millimetres with their mark.
    """
    if units == "mm":
        return mm_text(mm)
    fraction = inch_text(mm)
    if fraction is not None:
        return fraction
    inches = _on_grid(mm) / INCH
    if (inches * 10**_INCH_DECIMALS).denominator == 1:
        return _decimal(inches, _INCH_DECIMALS)
    return f"{mm_text(mm)}mm"


def steps(value: float | Fraction, decimals: int) -> int:
    """Return a value in units of its last decimal, rounded to the nearest, halves to even.

    It is what ``round`` does to a fraction, without the fractions.
    """
    whole: int
    over, under = value.as_integer_ratio()
    whole, rest = divmod(over * 10**decimals, under)
    if rest * 2 > under or (rest * 2 == under and whole % 2):
        whole += 1
    return whole


def _on_grid(mm: float | Fraction) -> Fraction:
    return Fraction(steps(mm, _GRID_DECIMALS), 10**_GRID_DECIMALS)


def _inches(inches: Fraction, joint: str) -> str | None:
    parts = inches * FINEST_DENOMINATOR
    return _sixty_fourths(parts.numerator, joint) if parts.denominator == 1 else None


def _sixty_fourths(parts: int, joint: str) -> str:
    """Spell a number of 1/64 in."""
    whole, rest = divmod(abs(parts), FINEST_DENOMINATOR)
    sign = "-" if parts < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    common = math.gcd(rest, FINEST_DENOMINATOR)
    fraction = f"{rest // common}/{FINEST_DENOMINATOR // common}"
    return f"{sign}{whole}{joint}{fraction}" if whole else f"{sign}{fraction}"


def _decimal(value: Fraction, places: int) -> str:
    scaled = abs(value) * 10**places
    digits = f"{scaled.numerator // scaled.denominator:0{places + 1}d}"
    text = f"{digits[:-places]}.{digits[-places:]}".rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 else text
