"""Numbers of the model: finite, and on a fixed grid so that equality is plain ``==``."""

from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from translator.lengths.grid import LARGEST_MM, angle_on_grid, on_grid


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
