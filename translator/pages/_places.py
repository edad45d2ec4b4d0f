"""Where on the picture a finding points to."""

import re
from typing import Final

from msgspec import Struct

from translator.geometry.clearance import extent
from translator.geometry.ends import end_x
from translator.model import (
    LegName,
    Notch,
    OutlineTrim,
    Part,
    Rounding,
    Stamp,
    Trim,
    leg_names,
    leg_of,
    leg_width,
)

_FEATURE: Final = re.compile(r"legs\.(a|b|face)\.([A-Za-z0-9_.-]+)")
_TRIM: Final = re.compile(r"legs\.(a|b|face)\.trims\.([0-9]{1,6})")
_LEG: Final = re.compile(r"legs\.(a|b|face)")
_END: Final = re.compile(r"ends\.(start|far)")


class Target(Struct, frozen=True, kw_only=True):
    """A place on a leg.

    Attributes:
        leg: the leg.
        x, y: the place, mm.
        feature: id of the feature that is there, "" for none.
        clear_mm: from the place to the edge of the feature across the leg.
    """

    leg: LegName
    x: float
    y: float
    feature: str = ""
    clear_mm: float = 0.0


def targets(part: Part, element: str) -> tuple[Target, ...]:
    """Return the places that an element path names, none for what has no place on a leg."""
    if found := _TRIM.match(element):
        return tuple(_of_trim(part, leg, int(found[2])) for leg in _leg(part, found[1]))
    if found := _FEATURE.match(element):
        return tuple(t for leg in _leg(part, found[1]) for t in _of_feature(part, leg, found[2]))
    if found := _END.match(element):
        far = found[1] == "far"
        return tuple(_of_end(part, leg, is_far=far) for leg in leg_names(part))
    if found := _LEG.match(element):
        return tuple(
            Target(leg=leg, x=part.length_mm / 2.0, y=leg_width(part.section, leg))
            for leg in _leg(part, found[1])
        )
    return ()


def _leg(part: Part, name: str) -> tuple[LegName, ...]:
    return tuple(leg for leg in leg_names(part) if leg == name)


def _of_feature(part: Part, leg: LegName, name: str) -> tuple[Target, ...]:
    for feature in leg_of(part, leg).features:
        if name == feature.id or name.startswith(f"{feature.id}."):
            box = extent(feature)
            y = (box.low + box.high) / 2.0
            if isinstance(feature, Stamp):
                y += feature.height_mm / 2.0
            x = (box.left + box.right) / 2.0
            clear = (box.high - box.low) / 2.0
            return (Target(leg=leg, x=x, y=y, feature=feature.id, clear_mm=clear),)
    return ()


def _of_end(part: Part, leg: LegName, *, is_far: bool) -> Target:
    middle = leg_width(part.section, leg) / 2.0
    end = end_x(part, "far" if is_far else "start", leg, middle)
    return Target(leg=leg, x=end, y=middle)


def _of_trim(part: Part, leg: LegName, index: int) -> Target:
    """Return the middle of what a trim takes away."""
    trims = leg_of(part, leg).trims
    width, length = leg_width(part.section, leg), part.length_mm
    if index >= len(trims) or isinstance(trims[index], OutlineTrim):
        return Target(leg=leg, x=length / 2.0, y=width)
    return _middle(leg, trims[index], width, length)


def _middle(leg: LegName, trim: Trim, width: float, length: float) -> Target:
    if isinstance(trim, OutlineTrim):
        return Target(leg=leg, x=length / 2.0, y=width)
    if isinstance(trim, Notch):
        x, deep = (trim.x_from_mm + trim.x_to_mm) / 2.0, trim.across_mm
    else:
        if isinstance(trim, Rounding):
            along = deep = trim.radius_mm
        else:
            along, deep = trim.along_mm, trim.across_mm
        x = along / 2.0 if trim.end == "start" else length - along / 2.0
    low = trim.side in ("heel", "lower")
    return Target(leg=leg, x=x, y=deep / 2.0 if low else width - deep / 2.0)
