"""Features as rows of the blocks BO, SI, IK, PU and KO."""

import math
from collections.abc import Iterable
from types import MappingProxyType
from typing import Final

from translator.conventions import Conventions
from translator.emitters.nc._contours import rows as contour_rows
from translator.emitters.nc._frame import View
from translator.emitters.nc._spelling import MISSING, number, place, rounded
from translator.errors import CannotRepresentError
from translator.lengths.grid import text_direction
from translator.model import (
    CentreMark,
    Feature,
    Hole,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    slot_direction,
)

_THREADS: Final = MappingProxyType({None: "", "right": "g", "left": "l"})

Block = tuple[str, tuple[str, ...]]
"""A block code and its rows."""


def blocks_of(
    part: Part, view: View, features: Iterable[Feature], settings: Conventions
) -> Iterable[Block]:
    """Yield the blocks of one leg's features, in order; contours and lines one to a block.

    Scribed lines are left out: the format has powdered and punched ones only.
    """
    for feature in features:
        if isinstance(feature, Opening):
            yield "IK", tuple(contour_rows(view, feature.contour, is_closed=True))
        elif isinstance(feature, Scribe):
            if feature.method != "scribe":
                code = "PU" if feature.method == "powder" else "KO"
                lines = contour_rows(view, feature.line, is_closed=feature.closed)
                yield code, tuple(lines)
        elif isinstance(feature, Stamp):
            yield "SI", (_stamp(part, view, feature),)
        else:
            yield "BO", _bored(view, feature, settings)


def _bored(view: View, feature: Hole | Slot | CentreMark, settings: Conventions) -> tuple[str, ...]:
    if isinstance(feature, CentreMark):
        return (_at(view, feature.x_mm, feature.y_mm) + number(0.0, 9) + "m" + number(0.0),)
    if isinstance(feature, Slot):
        return (_slot(view, feature, settings),)
    at = _at(view, feature.x_mm, feature.y_mm)
    depth = _depth(feature.depth_mm, feature.id)
    size = _size(feature.diameter_mm, f"the diameter of {feature.id}")
    row = at + number(size, 9) + _THREADS[feature.thread] + depth
    if feature.countersink_diameter_mm is None:
        return (row,)
    sink = at + number(feature.countersink_diameter_mm, 9) + "s" + number(0.0)
    return (row, sink)


def _at(view: View, x: float, y: float) -> str:
    return place(view.letter, view.along(x), view.up(y))


def _size(value: float, what: str) -> float:
    """Return a size that is still one when rounded.

    Raises:
        CannotRepresentError: when it becomes 0.
    """
    if rounded(value) <= 0.0:
        raise CannotRepresentError(f"{what}, {value:g} mm, is 0 when rounded to 0.01 mm")
    return value


def _depth(depth: float | None, name: str) -> str:
    return number(0.0 if depth is None else _size(depth, f"the depth of {name}"))


def _slot(view: View, slot: Slot, settings: Conventions) -> str:
    """Write a slot as its first end's centre (or its middle) and its length as set."""
    angle = slot_direction(slot.angle_deg * view.sense)
    between = rounded(slot.length_mm - slot.width_mm)
    _size(between, f"the length between the end centres of {slot.id}")
    x, y = view.along(slot.x_mm), view.up(slot.y_mm)
    if settings.slot_reference != "middle":
        turn = math.radians(angle)
        x -= between / 2 * math.cos(turn)
        y -= between / 2 * math.sin(turn)
    width = slot.length_mm if settings.slot_length == "overall" else between
    sizes = number(slot.width_mm, 9) + _depth(slot.depth_mm, slot.id) + "l"
    return place(view.letter, x, y) + sizes + number(width) + number(0.0) + number(angle)


def _stamp(part: Part, view: View, stamp: Stamp) -> str:
    """Write letters by the lower left of their box in the view.

    Raises:
        CannotRepresentError: for a text of blanks.
    """
    x, y, angle = stamp.x_mm, stamp.from_heel_mm, stamp.angle_deg
    if view.is_flipped:
        turn = math.radians(-angle)
        x += stamp.height_mm * math.sin(turn)
        y += stamp.height_mm * math.cos(turn)
    letters = (stamp.text if stamp.text is not None else part.mark).strip()
    if not letters:
        raise CannotRepresentError(f"the stamp {stamp.id} has no letters")
    height = rounded(_size(stamp.height_mm, f"the height of the stamp {stamp.id}"))
    size = f"{height:.0f}" if height == int(height) else f"{height:.2f}"
    head = _at(view, x, y) + number(text_direction(angle * view.sense))
    return f"{head} {size:>4}{'r' if stamp.may_move else ' '}{letters}"


def is_missing(text: str | None) -> bool:
    """Tell whether a reader would take a header text as not given."""
    return text is not None and text.strip() in MISSING
