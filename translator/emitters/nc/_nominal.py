"""Whether a part's lengths are to be brought back to fractions of an inch when they are read."""

import math
from collections.abc import Iterable, Mapping
from typing import Final

from translator.emitters.nc._spelling import rounded
from translator.geometry.contours import Contour
from translator.lengths.spell import inch_text
from translator.model import (
    Angle,
    Feature,
    Hole,
    LegName,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    leg_names,
    leg_of,
)

_PITCH_MM: Final = 25.4 / 64
_BROUGHT_MM: Final = 0.006
"""A figure this near to its fraction is brought back to it."""

_LEFT_MM: Final = 0.03
"""A figure farther than this from all fractions is left as written, rounded or not."""

_Figure = tuple[float, float]
"""A length of the part, and as the file carries it."""


def is_nominal(part: Part, outlines: Mapping[LegName, Contour]) -> bool:
    """Tell whether bringing lengths back to whole 64ths of an inch mends some and harms none.

    So it is for a part in inches whose lengths are whole 64ths, or clear of them, when the
    rounding to 0.01 mm has moved one.
    """
    if part.units != "inch" or not all(inch_text(size) is not None for size in _sizes(part)):
        return False
    figures = [(size, rounded(size)) for size in (part.length_mm, *_sizes(part))]
    for contour in outlines.values():
        figures += _corners(contour)
    for leg in leg_names(part):
        for feature in leg_of(part, leg).features:
            figures += _figures(feature)
    return all(map(_comes_back, figures)) and any(
        written != true for true, written in figures if inch_text(true) is not None
    )


def _comes_back(figure: _Figure) -> bool:
    true, written = figure
    if inch_text(true) is not None:
        return abs(written - true) <= _BROUGHT_MM
    return abs(true - round(true / _PITCH_MM) * _PITCH_MM) > _LEFT_MM


def _sizes(part: Part) -> tuple[float, ...]:
    section = part.section
    if isinstance(section, Angle):
        return section.leg_a_mm, section.leg_b_mm, section.thickness_mm
    return section.width_mm, section.thickness_mm


def _corners(vertices: Iterable[Vertex]) -> Iterable[_Figure]:
    """Yield the places of a contour's corners, and the radii of its arcs."""
    ring = list(vertices)
    for begin, end in zip(ring, [*ring[1:], *ring[:1]], strict=True):
        yield from ((begin.x_mm, rounded(begin.x_mm)), (begin.y_mm, rounded(begin.y_mm)))
        if begin.bulge:
            half = math.hypot(end.x_mm - begin.x_mm, end.y_mm - begin.y_mm) / 2
            size = abs(begin.bulge)
            radius = half * (1 + size * size) / (2 * size)
            yield radius, rounded(radius)


def _figures(feature: Feature) -> Iterable[_Figure]:
    """Yield the lengths of a feature that the file's rows carry."""
    if isinstance(feature, Opening):
        yield from _corners(feature.contour)
    elif isinstance(feature, Scribe):
        yield from _corners(feature.line)
    elif isinstance(feature, Stamp):
        yield from _of_stamp(feature)
    elif isinstance(feature, Slot):
        yield from _of_slot(feature)
    else:
        lengths = [feature.x_mm, feature.y_mm]
        if isinstance(feature, Hole):
            sizes = (feature.diameter_mm, feature.depth_mm, feature.countersink_diameter_mm)
            lengths += [size for size in sizes if size is not None]
        yield from ((mm, rounded(mm)) for mm in lengths)


def _of_slot(slot: Slot) -> Iterable[_Figure]:
    """Yield a slot's middle, sizes and end centres, whichever of them is written."""
    between = slot.length_mm - slot.width_mm
    turn = math.radians(slot.angle_deg)
    for at, way in ((slot.x_mm, math.cos(turn)), (slot.y_mm, math.sin(turn))):
        yield at, rounded(at)
        for side in (-0.5, 0.5):
            yield at + side * between * way, rounded(at + side * rounded(between) * way)
    for mm in (slot.width_mm, slot.length_mm, between, slot.depth_mm):
        if mm is not None:
            yield mm, rounded(mm)


def _of_stamp(stamp: Stamp) -> Iterable[_Figure]:
    """Yield a stamp's height and the two corners of its letters that a view may count from."""
    turn = math.radians(stamp.angle_deg)
    x, y, height = stamp.x_mm, stamp.from_heel_mm, stamp.height_mm
    for mm in (x, y, height, x - height * math.sin(turn), y + height * math.cos(turn)):
        yield mm, rounded(mm)
