"""The model's frame turned into the format's views."""

from msgspec import Struct

from translator.conventions import Conventions
from translator.model import LegName, Part, leg_width


class View(Struct, frozen=True, kw_only=True):
    """A leg in its view: v for leg a and a flat's face, u for leg b.

    Attributes:
        letter: of the view.
        left: x of the model at which the finished piece begins.
        width: size across the leg in millimetres.
        is_flipped: y = 0 of the view is the toe, so angles and bulges change sign.
        arc_left: sign that a radius takes when its arc turns left in the view.
    """

    letter: str
    left: float
    width: float
    is_flipped: bool
    arc_left: float

    @property
    def sense(self) -> float:
        """Sign that an angle or bulge of the model takes in the view."""
        return -1.0 if self.is_flipped else 1.0

    def along(self, x: float) -> float:
        """Return the station in the view of a place given by the model's x."""
        return x - self.left

    def up(self, y: float) -> float:
        """Return the height in the view of a place given by its distance from the heel."""
        return self.width - y if self.is_flipped else y


def view_of(part: Part, leg: LegName, settings: Conventions, left: float) -> View:
    """Return the view of a leg under settings of which none that matters is open."""
    return View(
        left=left,
        letter="u" if leg == "b" else "v",
        width=leg_width(part.section, leg),
        is_flipped=leg == "b" and settings.u_view_bottom == "toe",
        arc_left=1.0 if settings.arc_sign == "plus-left" else -1.0,
    )
