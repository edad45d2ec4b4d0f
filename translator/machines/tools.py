"""Tools of a station: what they cut, in what steel, and what changing them costs."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from translator.machines.ranges import Name, Positive, Seconds
from translator.model.features import SlotDegrees
from translator.model.numbers import Frozen, OffsetMm, SizeMm, Text


class ThicknessLimit(Frozen):
    """Thickest steel that a tool takes; grade absent = any grade not named beside it."""

    grade: Annotated[Text, Field(min_length=1)] | None = None
    most_mm: SizeMm


class _Tool(Frozen):
    number: Name
    place: Literal["loaded", "crib"] = "loaded"
    change_time_s: Seconds | None = None


PointDegrees = Annotated[float, Field(gt=0, le=180, allow_inf_nan=False)]
"""Angle of a drill's point, 180 for one that cuts flat."""


class _Cutting(_Tool):
    thickness_limits: Annotated[tuple[ThicknessLimit, ...], Field(max_length=100)] = ()
    die_clearance_mm: OffsetMm | None = None
    cutting_speed_m_per_min: Positive | None = None
    turns_per_min: Positive | None = None
    point_angle_deg: PointDegrees | None = None
    feed_mm_per_rev: Positive | None = None
    stroke_time_s: Seconds | None = None

    @model_validator(mode="after")
    def _one_speed(self) -> "_Cutting":
        if self.cutting_speed_m_per_min is not None and self.turns_per_min is not None:
            raise ValueError(
                "it has cutting_speed_m_per_min and turns_per_min; one of them is enough"
            )
        return self


class RoundTool(_Cutting):
    """A round punch or a drill; a punch allowed several hits cuts slots of its width too."""

    shape: Literal["round"] = "round"
    diameter_mm: SizeMm
    several_hits: bool = False


class OblongTool(_Cutting):
    """A punch with round ends.

    ``angle_deg`` is the direction of its long axis from the way the bar travels, positive
    towards the toe; ``turns`` says that the station can set any direction.
    """

    shape: Literal["oblong"] = "oblong"
    width_mm: SizeMm
    length_mm: SizeMm
    angle_deg: SlotDegrees = 0.0
    turns: bool = False

    @model_validator(mode="after")
    def _longer_than_wide(self) -> "OblongTool":
        if self.length_mm <= self.width_mm:
            raise ValueError(
                f"length {self.length_mm:g} mm is not more than its width of {self.width_mm:g} mm"
            )
        return self


class CentreTool(_Tool):
    """A centre punch: it marks a place and cuts nothing."""

    shape: Literal["centre"] = "centre"
    stroke_time_s: Seconds | None = None


Tool = Annotated[RoundTool | OblongTool | CentreTool, Field(discriminator="shape")]
