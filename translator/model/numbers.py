"""Numbers of the model: finite, and on a fixed grid so that equality is plain ``==``."""

from fractions import Fraction
from typing import Annotated, Final

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

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


def _positive(value: float) -> float:
    if value <= 0:
        raise ValueError(f"{value:g} is not greater than 0")
    return value


def _plain_text(value: str) -> str:
    for character in value:
        if ord(character) < 32 or 127 <= ord(character) < 160 or 0xD800 <= ord(character) < 0xE000:  # noqa: PLR2004
            raise ValueError(f"it holds the control character U+{ord(character):04X}")
    return value


_Finite = Annotated[float, Field(ge=-LARGEST_MM, le=LARGEST_MM, allow_inf_nan=False)]

Mm = Annotated[_Finite, AfterValidator(on_grid)]
"""A place or offset in millimetres."""

SizeMm = Annotated[
    float,
    Field(gt=0, le=LARGEST_MM, allow_inf_nan=False),
    AfterValidator(on_grid),
    AfterValidator(_positive),
]
"""A size in millimetres, greater than 0 on the grid."""

OffsetMm = Annotated[
    float, Field(ge=0, le=LARGEST_MM, allow_inf_nan=False), AfterValidator(on_grid)
]
"""A length in millimetres that may be 0."""

Degrees = Annotated[
    float, Field(ge=-360, le=360, allow_inf_nan=False), AfterValidator(angle_on_grid)
]

CutDegrees = Annotated[
    float, Field(gt=-89, lt=89, allow_inf_nan=False), AfterValidator(angle_on_grid)
]
"""Angle of a cut's trace from the square, under 89 degrees either way."""

Text = Annotated[str, Field(max_length=4000), AfterValidator(_plain_text)]
"""Text without control characters."""


class Frozen(BaseModel):
    """Base of all model values: frozen, strict, no unknown fields, finite numbers only."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)
