"""The grid that lengths and angles lie on, so that equality is plain ``==``.

It stands below the model, so that settings can be read where no part is.
"""

from fractions import Fraction
from typing import Final

from translator.lengths.spell import steps

MM_DECIMALS: Final = 6
"""The grid of lengths is 0.000001 mm: every 1/64 in. is exact on it."""

_STEPS_PER_MM: Final = 10**MM_DECIMALS

DEG_DECIMALS: Final = 9
"""The grid of angles, in decimals of a degree: over 10 m it moves a point by under 1e-6 mm."""

LARGEST_MM: Final = 1_000_000.0
"""No length or place is longer than a kilometre; a larger one is a slip of the pen."""


def on_grid(value: float | Fraction) -> float:
    """Put a length in millimetres on the grid of 0.000001 mm; -0.0 becomes 0.0."""
    if isinstance(value, float):  # asked first: to ask for a fraction takes longer
        return round(value, MM_DECIMALS) + 0.0
    return steps(value, MM_DECIMALS) / _STEPS_PER_MM


def angle_on_grid(value: float) -> float:
    """Put an angle in degrees on its grid; -0.0 becomes 0.0."""
    return round(value, DEG_DECIMALS) + 0.0


def slot_direction(value: float) -> float:
    """Bring a direction that has no sense of travel into (-90, 90] degrees."""
    turned = angle_on_grid(value % 180.0)
    return angle_on_grid(turned - 180.0) if turned > 90.0 else turned  # noqa: PLR2004


def text_direction(value: float) -> float:
    """Bring a direction with a sense of travel into (-180, 180] degrees."""
    turned = angle_on_grid(value % 360.0)
    return angle_on_grid(turned - 360.0) if turned > 180.0 else turned  # noqa: PLR2004
