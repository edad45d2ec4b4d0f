"""Trims: cuts that change the outline of one leg."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from translator.lengths.grid import on_grid
from translator.model.features import MOST_POINTS, Vertex
from translator.model.numbers import Frozen, Mm, OffsetMm, SizeMm

End = Literal["start", "far"]
Side = Literal["heel", "toe", "lower", "upper"]
"""Edge of a leg: heel or toe of an angle; lower (y = 0) or upper of a flat."""


class Cope(Frozen):
    """A rectangle cut out of a corner.

    ``along_mm`` runs along the piece from the outermost point of that end on this leg's
    outline, ``across_mm`` from the edge named. ``radius_mm`` rounds the inside corner.
    A cope at the heel of an angle's leg takes the thickness x thickness corner with it, so
    the other leg shows a cut of the same length and one thickness deep.
    """

    kind: Literal["cope"] = "cope"
    end: End
    side: Side
    along_mm: SizeMm
    across_mm: SizeMm
    radius_mm: OffsetMm = 0.0

    @model_validator(mode="after")
    def _radius_fits(self) -> "Cope":
        shorter = min(self.along_mm, self.across_mm)
        if self.radius_mm > shorter:
            raise ValueError(
                f"cope radius {self.radius_mm:g} mm is more than its shorter side of {shorter:g} mm"
            )
        return self


class Clip(Frozen):
    """A corner cut straight across, ``along_mm`` on the edge and ``across_mm`` on the end."""

    kind: Literal["clip"] = "clip"
    end: End
    side: Side
    along_mm: SizeMm
    across_mm: SizeMm


class Rounding(Frozen):
    """A corner rounded by an arc tangent to the edge and to the end."""

    kind: Literal["rounding"] = "rounding"
    end: End
    side: Side
    radius_mm: SizeMm


class Notch(Frozen):
    """A rectangle cut into the toe edge (or an edge of a flat), away from the ends."""

    kind: Literal["notch"] = "notch"
    side: Side
    x_from_mm: Mm
    x_to_mm: Mm
    across_mm: SizeMm
    radius_mm: OffsetMm = 0.0

    @model_validator(mode="after")
    def _has_width(self) -> "Notch":
        width = self.x_to_mm - self.x_from_mm
        if width <= 0:
            raise ValueError(
                f"the notch ends at {self.x_to_mm:g} mm, not beyond its start at"
                f" {self.x_from_mm:g} mm"
            )
        # On the grid again: the difference of two places carries the noise of its last bits.
        if self.radius_mm > on_grid(min(width / 2, self.across_mm)):
            raise ValueError(f"notch radius {self.radius_mm:g} mm does not fit the notch")
        return self


class OutlineTrim(Frozen):
    """The whole outline of a leg, corner by corner, instead of ends and other trims.

    Closed from its last corner to its first; it runs from the heel at the start end along
    the heel first (counter-clockwise where y points up).
    """

    kind: Literal["outline"] = "outline"
    contour: Annotated[tuple[Vertex, ...], Field(min_length=3, max_length=MOST_POINTS)]


Trim = Annotated[Cope | Clip | Rounding | Notch | OutlineTrim, Field(discriminator="kind")]
