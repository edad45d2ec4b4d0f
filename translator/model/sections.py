"""Cross-sections: angle and flat."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from translator.model.numbers import Frozen, OffsetMm, SizeMm, Text


class Angle(Frozen):
    """An angle. Leg a is the first size of the section, leg b the second.

    ``root_radius_mm`` is the inside fillet, ``toe_radius_mm`` the rounding of the inside
    edge of each toe; 0 where sharp or not known. ``designation`` is the trade's name as the
    tables spell it; None when the section was given by sizes alone.
    """

    kind: Literal["angle"] = "angle"
    designation: Text | None = None
    leg_a_mm: SizeMm
    leg_b_mm: SizeMm
    thickness_mm: SizeMm
    root_radius_mm: OffsetMm = 0.0
    toe_radius_mm: OffsetMm = 0.0

    @model_validator(mode="after")
    def _legs_longer_than_thick(self) -> "Angle":
        shorter = min(self.leg_a_mm, self.leg_b_mm)
        if self.thickness_mm >= shorter:
            raise ValueError(
                f"thickness {self.thickness_mm:g} mm is not less than the leg of {shorter:g} mm"
            )
        if self.thickness_mm + self.root_radius_mm > shorter:
            raise ValueError(
                f"root radius {self.root_radius_mm:g} mm does not fit a leg of {shorter:g} mm"
                f" and {self.thickness_mm:g} mm thickness"
            )
        if self.toe_radius_mm > self.thickness_mm:
            raise ValueError(
                f"toe radius {self.toe_radius_mm:g} mm is more than the thickness of"
                f" {self.thickness_mm:g} mm"
            )
        return self


class Flat(Frozen):
    """A flat bar with square edges."""

    kind: Literal["flat"] = "flat"
    designation: Text | None = None
    width_mm: SizeMm
    thickness_mm: SizeMm

    @model_validator(mode="after")
    def _wider_than_thick(self) -> "Flat":
        if self.thickness_mm > self.width_mm:
            raise ValueError(
                f"thickness {self.thickness_mm:g} mm is more than the width of {self.width_mm:g} mm"
            )
        return self


Section = Annotated[Angle | Flat, Field(discriminator="kind")]


def leg_width(section: Angle | Flat, leg: str) -> float:
    """Return the size across a leg ("a", "b" or "face") in millimetres, heel to toe."""
    if isinstance(section, Flat):
        return section.width_mm
    return section.leg_a_mm if leg == "a" else section.leg_b_mm


def leg_thickness(section: Angle | Flat) -> float:
    """Return the thickness in millimetres, the same for both legs."""
    return section.thickness_mm
