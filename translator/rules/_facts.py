"""Facts of a part that rules share: its geometry, worked out once."""

from functools import cached_property

from translator.geometry.contours import Contour
from translator.geometry.outline import LegOutline, leg_outline
from translator.model import LegName, Part, leg_names


class Facts:
    """One part and what follows from it; every figure is worked out when first asked for.

    Attributes:
        part: the part under check.
    """

    def __init__(self, part: Part) -> None:
        self.part = part

    @cached_property
    def outlines(self) -> dict[LegName, LegOutline]:
        """The outline of each leg, with what keeps it from being made."""
        return {leg: leg_outline(self.part, leg) for leg in leg_names(self.part)}
