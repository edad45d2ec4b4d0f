"""Inch sources: told by the section, and lengths brought back to fractions on request."""

from typing import Final

from translator.lengths.spell import inch_text
from translator.model import Angle, Flat, on_grid

INCH: Final = 25.4

ROUNDED_MM: Final = 0.006
"""Files give lengths to 0.01 mm; within this a listed size or a fraction is meant."""

ADDED_UP_MM: Final = 0.02
"""Positions along the piece that add up rounded spaces may be off by this much."""

_PARTS: Final = (16, 32, 64)
_HALVES: Final = 2.0
_METRIC_MM: Final = 0.005


def is_inch(section: Angle | Flat) -> bool:
    """Tell whether every size of a section is a whole number of 1/64 in.

    Sizes rounded to 0.01 mm count when they lie within 0.006 mm of 1/16 in. and off the
    whole and half millimetres.
    """
    sizes = (
        (section.leg_a_mm, section.leg_b_mm, section.thickness_mm)
        if isinstance(section, Angle)
        else (section.width_mm, section.thickness_mm)
    )
    if all(inch_text(size) is not None for size in sizes):
        return True
    return all(_is_rounded_inch(size) for size in sizes)


def _is_rounded_inch(size: float) -> bool:
    off_metric = abs(size - round(size * _HALVES) / _HALVES)
    return off_metric > _METRIC_MM and _nominal(size, ROUNDED_MM)[1] == _PARTS[0]


def _nominal(value: float, within: float) -> tuple[float, int]:
    """Return the nearest fraction, coarsest first, and its denominator; 0 when there is none."""
    for parts in _PARTS:
        pitch = INCH / parts
        nearest = round(value / pitch) * pitch
        if abs(value - nearest) <= within and (nearest != 0.0 or value == 0.0):
            return on_grid(nearest), parts
    return value, 0


class Nominal:
    """Brings lengths back to 1/16, 1/32 or 1/64 in., and counts what it did.

    With ``is_on`` False every length passes as it is.
    """

    __slots__ = ("counts", "is_on", "left")

    def __init__(self, *, is_on: bool) -> None:
        self.is_on = is_on
        self.counts = dict.fromkeys(_PARTS, 0)
        self.left = 0

    def size(self, value: float) -> float:
        """Return a size, or a place across a leg, as the fraction meant."""
        return self._bring(value, ROUNDED_MM)

    def position(self, value: float) -> float:
        """Return a place along the piece as the fraction meant."""
        return self._bring(value, ADDED_UP_MM)

    def _bring(self, value: float, within: float) -> float:
        if not self.is_on or value == 0.0:
            return value
        nominal, parts = _nominal(value, within)
        if parts == 0:
            self.left += 1
        elif nominal != value:
            self.counts[parts] += 1
        return nominal

    def sentence(self) -> str:
        """Say what was done; "" when nothing was."""
        moved = [f"{n} to 1/{parts} in." for parts, n in self.counts.items() if n]
        if not moved and not self.left:
            return ""
        said = "lengths brought back to nominal inches: " + (", ".join(moved) or "none")
        return said + (f"; {self.left} fit no fraction and stay as written" if self.left else "")
