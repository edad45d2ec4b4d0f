"""The exact shape of a slot after the standard's figure, in the model's frame.

The opening is every point within half the diameter of a rectangle, width by height, whose
lower left corner is the point given; the rectangle is turned by the angle about that point.
"""

import math
from typing import Final

from msgspec import Struct

from translator.conventions import Conventions
from translator.model import slot_direction
from translator.readers.nc._arcs import Corner
from translator.readers.nc._items import Item
from translator.readers.nc._records import HoleRecord
from translator.readers.nc._views import Frame

_QUARTER: Final = math.tan(math.pi / 8)
_SMALLEST_MM: Final = 0.005


class SlotError(ValueError):
    """A slot that has no shape under the settings; the message is a sentence."""


class SlotShape(Struct, frozen=True, kw_only=True):
    """A slot laid on its leg.

    Attributes:
        x, y: the first (lower left) centre.
        along, across: unit vectors of width and height in the model's frame.
        width, height: between centres.
        radius: half the diameter.
        sense: -1 where the view runs the other way round than the model.
    """

    x: float
    y: float
    along: tuple[float, float]
    across: tuple[float, float]
    width: float
    height: float
    radius: float
    sense: float

    def at(self, u: float, v: float) -> tuple[float, float]:
        """Return the place u along and v across from the first centre."""
        return (
            self.x + u * self.along[0] + v * self.across[0],
            self.y + u * self.along[1] + v * self.across[1],
        )


def shape_of(hole: HoleRecord, frame: Frame, reading: Conventions) -> SlotShape:
    """Lay a slot on its leg.

    Raises:
        SlotError: when an overall size is not greater than the diameter.
    """
    turn = math.radians(hole.angle)
    cosine, sine = math.cos(turn), math.sin(turn)
    along, across = (cosine, frame.sense * sine), (-sine, frame.sense * cosine)
    width, height = (_between(size, hole.diameter, reading) for size in (hole.width, hole.height))
    x, y = hole.x, frame.across(hole.ref, hole.y)
    if reading.slot_reference == "middle":
        x -= (width * along[0] + height * across[0]) / 2
        y -= (width * along[1] + height * across[1]) / 2
    return SlotShape(
        x=x,
        y=y,
        along=along,
        across=across,
        width=width,
        height=height,
        radius=hole.diameter / 2,
        sense=frame.sense,
    )


def _between(size: float, diameter: float, reading: Conventions) -> float:
    if reading.slot_length != "overall" or size == 0.0:
        return size
    if size - diameter < _SMALLEST_MM:
        raise SlotError(
            f'slot size {size:g} mm, which slot_length = "overall" takes as overall, is not more'
            f" than the diameter of {diameter:g} mm"
        )
    return size - diameter


def slot_item(hole: HoleRecord, frame: Frame, shape: SlotShape, depth: float) -> Item:
    """Turn a laid slot into a slot with round ends, or an opening when it has two sizes."""
    if shape.width and shape.height:
        return Item(leg=frame.leg, line=hole.line, kind="opening", ring=_rounded(shape))
    x, y = shape.at(shape.width / 2, shape.height / 2)
    vector = shape.along if shape.width else shape.across
    angle = slot_direction(math.degrees(math.atan2(vector[1], vector[0])))
    length = shape.width + shape.height + hole.diameter
    return Item(
        leg=frame.leg,
        line=hole.line,
        kind="slot",
        numbers=(x, y, hole.diameter, length, angle, depth),
    )


def _rounded(shape: SlotShape) -> tuple[Corner, ...]:
    """Return the rounded rectangle, counter-clockwise in the view."""
    w, h, r = shape.width, shape.height, shape.radius
    bulge = _QUARTER * shape.sense
    places = (
        (0.0, -r, 0.0),
        (w, -r, bulge),
        (w + r, 0.0, 0.0),
        (w + r, h, bulge),
        (w, h + r, 0.0),
        (0.0, h + r, bulge),
        (-r, h, 0.0),
        (-r, 0.0, bulge),
    )
    return tuple(Corner(*shape.at(u, v), b) for u, v, b in places)


def ends_of(shape: SlotShape) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the two end centres: the first, and the one farthest from it."""
    return (shape.x, shape.y), shape.at(shape.width, shape.height)
