"""Numbers and ranges that machine profiles are made of."""

from typing import Annotated, Final, Literal

from pydantic import AfterValidator, Field, model_validator

from translator.lengths.grid import angle_on_grid
from translator.model.numbers import Frozen, OffsetMm, SizeMm, Text

SLACK_MM: Final = 0.005
"""Half the last decimal of an NC file: what is off by less may be rounding."""

_GRID_MM: Final = 1e-6


def is_size(size: float, wanted: float, tolerance: float) -> bool:
    """Tell whether two sizes are the same within a tolerance, millimetres."""
    return abs(size - wanted) <= tolerance + _GRID_MM


Name = Annotated[Text, Field(min_length=1, max_length=80)]
"""Name of a machine, a station or a tool, as the shop calls it."""

Side = Literal["left", "right"]
"""Side of the machine on which a leg lies, seen looking the way the bar travels."""

Sides = Literal["left", "right", "both"]
"""Side that a station or a marker reaches."""

Positive = Annotated[float, Field(gt=0, le=1e6, allow_inf_nan=False)]
"""A speed, force, strength or area: more than nothing."""

Share = Annotated[float, Field(gt=0, le=1, allow_inf_nan=False)]
"""A part of a whole, more than 0 and at most 1."""

Seconds = Annotated[float, Field(ge=0, le=1e6, allow_inf_nan=False)]

SwivelDegrees = Annotated[
    float, Field(gt=-89, lt=89, allow_inf_nan=False), AfterValidator(angle_on_grid)
]
"""How far a blade can be swung from the square."""


class Range(Frozen):
    """Least and most of a length; most absent = no limit."""

    least_mm: OffsetMm = 0.0
    most_mm: SizeMm | None = None

    @model_validator(mode="after")
    def _in_order(self) -> "Range":
        if self.most_mm is not None and self.most_mm < self.least_mm:
            raise ValueError(f"most_mm {self.most_mm:g} is less than least_mm {self.least_mm:g}")
        return self

    def holds(self, mm: float) -> bool:
        """Tell whether a length lies within the range; 0.005 mm beyond it may be rounding."""
        is_short = mm < self.least_mm - SLACK_MM
        return not is_short and (self.most_mm is None or mm <= self.most_mm + SLACK_MM)


class Swing(Frozen):
    """How far a cut can be swung on one side of the machine, square included.

    Positive = the cut lies farther the way the bar travels at the toe than at the heel.
    """

    least_deg: SwivelDegrees
    most_deg: SwivelDegrees

    @model_validator(mode="after")
    def _holds_square(self) -> "Swing":
        if not self.least_deg <= 0.0 <= self.most_deg:
            raise ValueError(
                f"the range from {self.least_deg:g} to {self.most_deg:g} degrees does not hold"
                " 0, the square cut"
            )
        return self
