"""How a part lies in a machine in one placement: sides, gauges, directions."""

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

from translator.machines.handling import Placement
from translator.machines.profile import Machine
from translator.machines.ranges import Side
from translator.machines.steel import SteelAtHand, steel_at_hand
from translator.model import Angle, LegName, Part, leg_names, leg_width, slot_direction
from translator.model.trims import End


class LegLay(Struct, frozen=True, kw_only=True):
    """How one leg lies.

    Attributes:
        leg: its name.
        side: side of the machine it lies on.
        width: its size across, millimetres.
        is_flipped: whether a flat has its upper edge at the heel's place.
        flow: 1.0 where the part's +x points the way the bar travels, else -1.0.
    """

    leg: LegName
    side: Side
    width: float
    is_flipped: bool
    flow: float

    def from_heel(self, y: float) -> float:
        """Return the gauge of y from the edge at the heel's place, millimetres."""
        return self.width - y if self.is_flipped else y

    def from_toe(self, y: float) -> float:
        """Return the gauge of y from the edge across, millimetres."""
        return self.width - self.from_heel(y)

    def direction(self, angle_deg: float) -> float:
        """Turn a slot's angle into one from the way the bar travels, positive towards the toe."""
        return slot_direction(angle_deg * self.flow * (-1.0 if self.is_flipped else 1.0))

    @property
    def heel_words(self) -> str:
        """What a message calls the edge at the heel's place."""
        if self.leg != "face":
            return "the heel"
        return "the upper edge" if self.is_flipped else "the lower edge"

    @property
    def toe_words(self) -> str:
        """What a message calls the edge across."""
        if self.leg != "face":
            return "the toe"
        return "the lower edge" if self.is_flipped else "the upper edge"


class Lay(Struct, frozen=True, kw_only=True):
    """A part in a machine, laid one way.

    Attributes:
        machine: the machine.
        part: the part.
        placement: the way it is laid.
        legs: each leg's own lay, in the part's order.
        steel: what is known of its grade.
    """

    machine: Machine
    part: Part
    placement: Placement
    legs: Mapping[LegName, LegLay]
    steel: SteelAtHand

    def leads(self, end: End) -> bool:
        """Tell whether an end goes into the machine first."""
        return self.placement.lead_end == end


def lay(machine: Machine, part: Part, placement: Placement) -> Lay:
    """Lay a part into a machine."""
    return Lay(
        machine=machine,
        part=part,
        placement=placement,
        legs=MappingProxyType(
            {leg: _leg_lay(machine, part, placement, leg) for leg in leg_names(part)}
        ),
        steel=steel_at_hand(machine, part),
    )


def _leg_lay(machine: Machine, part: Part, placement: Placement, leg: LegName) -> LegLay:
    other: Side = "right" if placement.leg_a == "left" else "left"
    side = placement.leg_a if leg == "a" else other
    is_flipped = False
    if not isinstance(part.section, Angle):
        # A flat lies as leg a does; on the other side the same hand puts its upper edge at
        # the heel's place.
        side = machine.flats.side if machine.flats else placement.leg_a
        is_flipped = side != placement.leg_a
    return LegLay(
        leg=leg,
        side=side,
        width=leg_width(part.section, leg),
        is_flipped=is_flipped,
        flow=-1.0 if placement.lead_end == "start" else 1.0,
    )
