"""Area, developed perimeter and centroid of a cross-section, from its sizes and radii."""

import math

from translator.model import Angle, Flat

_SPANDREL = 1.0 - math.pi / 4.0
"""A square less its quarter disc, for radius 1: what a fillet adds and a rounding takes."""

_SPANDREL_CENTROID = (10.0 - 3.0 * math.pi) / (12.0 - 3.0 * math.pi)
"""Distance of that shape's centroid from the corner along either side, for radius 1."""


def section_area_mm2(section: Angle | Flat) -> float:
    """Return the area of a section in mm2.

    An angle: t (a + b - t) + (1 - pi/4) (r1^2 - 2 r2^2) with the root radius r1 and the toe
    radius r2, the closed form behind the EN 10056-1 table (it meets the printed areas within
    their rounding). A flat: width times thickness.
    """
    t = section.thickness_mm
    if isinstance(section, Flat):
        return section.width_mm * t
    r1, r2 = section.root_radius_mm, section.toe_radius_mm
    return t * (section.leg_a_mm + section.leg_b_mm - t) + _SPANDREL * (r1 * r1 - 2.0 * r2 * r2)


def section_perimeter_mm(section: Angle | Flat) -> float:
    """Return the length of a section's outline in millimetres, its radii counted as arcs.

    An angle: 2 (a + b) - (2 - pi/2) (r1 + 2 r2), which is the painting surface per metre of
    the EN 10056-1 tables. A flat: 2 (width + thickness).
    """
    if isinstance(section, Flat):
        return 2.0 * (section.width_mm + section.thickness_mm)
    arcs = section.root_radius_mm + 2.0 * section.toe_radius_mm
    return 2.0 * (section.leg_a_mm + section.leg_b_mm) - (2.0 - math.pi / 2.0) * arcs


def section_centroid(section: Angle | Flat) -> tuple[float, float]:
    """Return how far the centroid lies from the heel along leg a and along leg b, millimetres.

    For a flat: from its lower edge, and from its face into the thickness.
    """
    t = section.thickness_mm
    if isinstance(section, Flat):
        return (section.width_mm / 2.0, t / 2.0)
    a, b = section.leg_a_mm, section.leg_b_mm
    r1, r2 = section.root_radius_mm, section.toe_radius_mm
    root, toe = _SPANDREL * r1 * r1, -_SPANDREL * r2 * r2
    inset = _SPANDREL_CENTROID * r2
    pieces = (
        (a * t, a / 2.0, t / 2.0),
        ((b - t) * t, t / 2.0, (b + t) / 2.0),
        (root, t + _SPANDREL_CENTROID * r1, t + _SPANDREL_CENTROID * r1),
        (toe, a - inset, t - inset),
        (toe, t - inset, b - inset),
    )
    whole = math.fsum(piece[0] for piece in pieces)
    return (
        math.fsum(piece[0] * piece[1] for piece in pieces) / whole,
        math.fsum(piece[0] * piece[2] for piece in pieces) / whole,
    )
