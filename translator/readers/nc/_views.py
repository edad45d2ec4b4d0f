"""Where a view's x and y lie on a leg, under one reading of the open conventions."""

from msgspec import Struct

from translator.conventions import Conventions
from translator.model import Angle, Flat, LegName, leg_width


class Frame(Struct, frozen=True, kw_only=True):
    """One view laid on its leg.

    Attributes:
        leg: the leg.
        width: size across the leg in millimetres, heel to toe.
        is_flipped: the view's lower edge is the toe (or a flat's upper edge), so that what
            turns left in the view turns right in the model.
        is_inner: the view looks at the inner face (the back of a flat).
        datum: the setting y_datum.
    """

    leg: LegName
    width: float
    is_flipped: bool
    is_inner: bool
    datum: str

    def across(self, ref: str, y: float) -> float:
        """Return the distance from the heel of a place given by reference letter and y."""
        up = y
        if self.datum == "named-edge" and ref == "o":
            up = self.width - y
        elif self.datum == "named-edge" and ref == "s":
            up = self.width / 2 + y
        return self.width - up if self.is_flipped else up

    @property
    def sense(self) -> float:
        """Sign that an angle or bulge of the view takes in the model."""
        return -1.0 if self.is_flipped else 1.0


def frame_of(view: str, section: Angle | Flat, reading: Conventions) -> Frame | None:
    """Lay a view on its leg; None for the narrow edges of a flat.

    Leg a is seen in v and, from inside, in h; leg b in u and, from inside, in o. The heel is
    the lower front edge. A flat lies in v, its back is h.
    """
    if isinstance(section, Flat):
        if view in ("o", "u"):
            return None
        leg: LegName = "face"
    else:
        leg = "a" if view in ("v", "h") else "b"
    flipped = (view == "u" and reading.u_view_bottom == "toe") or (
        view == "h" and reading.h_view == "rolled"
    )
    return Frame(
        leg=leg,
        width=leg_width(section, leg),
        is_flipped=flipped,
        is_inner=view in ("h", "o"),
        datum=reading.y_datum,
    )
