"""How a machine parts the piece from the bar: by shear or by saw."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from translator.machines.ranges import Positive, Seconds, Swing
from translator.model.numbers import Frozen, Mm, OffsetMm, SizeMm, Text


class CutAngles(Frozen):
    """Sides on which a cut can be swung; a side that is absent is cut square only.

    ``compound`` says that it can be swung on both sides at once.
    """

    left: Swing | None = None
    right: Swing | None = None
    compound: bool = False


class Capacity(Frozen):
    """Largest cross-section that a shear parts; grade absent = any not named beside it."""

    grade: Annotated[Text, Field(min_length=1)] | None = None
    area_mm2: Positive


class _CutOff(Frozen):
    x_mm: Mm = 0.0
    front_trim_mm: OffsetMm = 0.0
    angles: CutAngles | None = None
    cut_time_s: Seconds | None = None


class Shear(_CutOff):
    """A shear: one cut between two pieces, or a slug punched out between them.

    ``angles`` absent = square only.
    """

    kind: Literal["shear"] = "shear"
    cut: Literal["single", "slug"]
    slug_mm: SizeMm | None = None
    least_hole_to_cut_mm: OffsetMm | None = None
    capacities: Annotated[tuple[Capacity, ...], Field(max_length=100)] = ()

    @model_validator(mode="after")
    def _slug_has_length(self) -> "Shear":
        if (self.cut == "slug") != (self.slug_mm is not None):
            raise ValueError('slug_mm goes with cut "slug", and only with it')
        return self


class Saw(_CutOff):
    """A saw: a kerf between two pieces. ``angles`` absent = square only."""

    kind: Literal["saw"] = "saw"
    kerf_mm: SizeMm
    feed_mm2_per_s: Positive | None = None


CutOff = Annotated[Shear | Saw, Field(discriminator="kind")]


def lost_mm(cut: Shear | Saw) -> float:
    """Return the length of bar that each cut takes, millimetres."""
    return cut.kerf_mm if isinstance(cut, Saw) else cut.slug_mm or 0.0
