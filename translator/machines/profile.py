"""The machine profile: what one machine of a shop takes, and what it can make."""

from typing import Annotated, Final, Literal

from pydantic import Field, model_validator

from translator.machines.cutting_off import CutOff
from translator.machines.handling import BOTH_FEEDS, Datum, Grip, Marker, Placement, Times
from translator.machines.ranges import Name, Positive, Range, Side
from translator.machines.stations import Station
from translator.model.numbers import Frozen, OffsetMm, Text

HandWork = Literal[
    "hole",
    "slot",
    "opening",
    "cope",
    "clip",
    "rounding",
    "notch",
    "outline",
    "countersink",
    "tapping",
    "reaming",
    "mitre",
]
"""Work that the shop does on the piece after the machine."""

USUAL_HAND_WORK: Final[tuple[HandWork, ...]] = (
    *("opening", "cope", "clip", "rounding", "notch", "outline"),
    *("countersink", "tapping", "reaming"),
)
"""What a shop does by hand anyway; common practice, no source."""

SIZE_TOLERANCE_MM: Final = 0.05
"""How far a tool's size may be from a hole's; half the last decimal of a size in tenths."""


class AngleSizes(Frozen):
    """Angles that the machine takes; both legs lie within ``leg``."""

    leg: Range = Range()
    thickness: Range = Range()


class FlatSizes(Frozen):
    """Flats that the machine takes, and the side on which their face lies."""

    width: Range = Range()
    thickness: Range = Range()
    side: Side = "left"


class Steel(Frozen):
    """Highest tensile strength that the shop reckons with for a grade.

    For a grade to which its standard sets no highest strength, or that no table knows.
    """

    grade: Annotated[Text, Field(min_length=1)]
    tensile_most_mpa: Positive


class Machine(Frozen):
    """One machine of a shop.

    ``placements`` stand in the order in which they are tried. ``assumed_grade`` is the grade
    taken for a part that states none.
    """

    name: Name
    remarks: tuple[Text, ...] = ()
    placements: Annotated[tuple[Placement, ...], Field(min_length=1, max_length=4)] = BOTH_FEEDS
    datum: Datum = Datum()
    angles: AngleSizes | None = None
    flats: FlatSizes | None = None
    piece_length: Range = Range()
    stock_length: Range = Range()
    stations: Annotated[tuple[Station, ...], Field(max_length=50)] = ()
    hole_size_tolerance_mm: OffsetMm = SIZE_TOLERANCE_MM
    cut_off: CutOff | None = None
    grip: Grip | None = None
    marker: Marker | None = None
    second_work: tuple[HandWork, ...] = USUAL_HAND_WORK
    steels: Annotated[tuple[Steel, ...], Field(max_length=200)] = ()
    assumed_grade: Annotated[Text, Field(min_length=1)] | None = None
    times: Times = Times()

    @model_validator(mode="after")
    def _names_differ(self) -> "Machine":
        names = [station.name for station in self.stations]
        for name in names:
            if names.count(name) > 1:
                raise ValueError(f"two stations have the name {name!r}")
        if self.angles is None and self.flats is None:
            raise ValueError("it takes neither angles nor flats: one of them must be there")
        return self
