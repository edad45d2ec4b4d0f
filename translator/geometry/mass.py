"""Mass of a piece: as the trade bills it, and of the steel that is really there."""

import math
from collections.abc import Mapping
from typing import Final

from translator.geometry.contours import Contour, area
from translator.geometry.ends import end_angle_deg, end_line, plane_x
from translator.geometry.heelline import heel_gaps
from translator.geometry.outline import LegOutline, explicit_outline, leg_outline
from translator.geometry.sections import section_area_mm2, section_centroid
from translator.geometry.walking import walk
from translator.model import (
    Angle,
    Flat,
    Hole,
    LegName,
    Opening,
    Part,
    Slot,
    leg_names,
    leg_of,
    leg_width,
)
from translator.model.features import Feature
from translator.model.trims import End

DENSITY_KG_PER_MM3: Final = 7.85e-6
"""Structural steel, 7850 kg/m3 (EN 1991-1-1 table A.4 gives 77.0 to 78.5 kN/m3)."""

Outlines = Mapping[LegName, LegOutline]

_ENDS: tuple[End, ...] = ("start", "far")


def mass_per_metre_kg(section: Angle | Flat) -> float:
    """Return the mass of a metre in kg: the published one of a listed size, else 7850 x area."""
    from translator.tables.angles import listed

    published = listed(section) if isinstance(section, Angle) else None
    if published is not None:
        return float(published.mass_per_metre_kg)
    return section_area_mm2(section) * DENSITY_KG_PER_MM3 * 1000.0


def gross_mass_kg(part: Part) -> float:
    """Return the mass as billed in kg: mass per metre times overall length, nothing deducted."""
    return mass_per_metre_kg(part.section) * part.length_mm / 1000.0


def net_mass_kg(part: Part, outlines: Outlines | None = None) -> float:
    """Return the mass in kg of the steel that is left: ``net_volume_mm3`` at 7850 kg/m3."""
    return net_volume_mm3(part, outlines) * DENSITY_KG_PER_MM3


def net_volume_mm3(part: Part, outlines: Outlines | None = None) -> float:
    """Return the volume of the finished piece in mm3.

    ``outlines`` are those of the part's legs, for a caller that has derived them already.

    The bar between both end planes is exact (area of the section with its radii times the
    distance of the planes at its centroid). From it go the trims, as area cut from the outer
    face times thickness, and holes, slots and openings, as area times thickness or depth.

    Approximations: a cut is taken as one thickness deep also where it meets the root fillet or
    the rounded toe; the slope of the other leg's mitre is followed exactly through a cope and
    to first order through a clip or rounding; openings that overlap each other or the edge
    count whole; a tapped hole counts with its thread's size; marks and stamps count nothing.
    """
    along_a, along_b = section_centroid(part.section)
    between = plane_x(part, "far", along_a, along_b) - plane_x(part, "start", along_a, along_b)
    volume = section_area_mm2(part.section) * between
    t = part.section.thickness_mm
    contours = {leg: _outline(part, leg, outlines) for leg in leg_names(part)}
    for leg, contour in contours.items():
        volume -= _trimmed_area(part, leg, contour) * t
        volume -= math.fsum(removed_mm3(f, t) for f in leg_of(part, leg).features)
    if isinstance(part.section, Angle):
        volume += _heel_counted_twice(part, contours["a"], contours["b"])
    return max(0.0, volume)


def face_area_gross_mm2(part: Part, leg: LegName, outlines: Outlines | None = None) -> float:
    """Return the area inside a leg's outline in mm2."""
    return area(_outline(part, leg, outlines))


def face_area_net_mm2(part: Part, leg: LegName, gross_mm2: float | None = None) -> float:
    """Return the area of a leg's outer face in mm2, less through holes, slots and openings.

    Blind holes and slots are not deducted, nor is a countersink beyond its hole.
    ``gross_mm2`` is the area inside the outline, for a caller that has it already.
    """
    t = part.section.thickness_mm
    gross = face_area_gross_mm2(part, leg) if gross_mm2 is None else gross_mm2
    return gross - math.fsum(_face_area(f) for f in leg_of(part, leg).features if _is_through(f, t))


def removed_mm3(feature: Feature, thickness: float) -> float:
    """Return the volume in mm3 that a feature takes out of a leg of that thickness."""
    if isinstance(feature, Hole | Slot):
        depth = thickness if feature.depth_mm is None else min(feature.depth_mm, thickness)
        sink = _countersink_mm3(feature, depth) if isinstance(feature, Hole) else 0.0
        return _face_area(feature) * depth + sink
    return _face_area(feature) * thickness


def _face_area(feature: Feature) -> float:
    if isinstance(feature, Hole):
        return math.pi * feature.diameter_mm**2 / 4.0
    if isinstance(feature, Slot):
        w = feature.width_mm
        return w * (feature.length_mm - w) + math.pi * w**2 / 4.0
    if isinstance(feature, Opening):
        return abs(area(feature.contour))
    return 0.0


def _is_through(feature: Feature, thickness: float) -> bool:
    if isinstance(feature, Hole | Slot):
        return feature.depth_mm is None or feature.depth_mm >= thickness
    return isinstance(feature, Opening)


def _countersink_mm3(hole: Hole, depth: float) -> float:
    """Return what a countersink takes beyond its hole: the cone down to the hole or the depth."""
    wide, angle = hole.countersink_diameter_mm, hole.countersink_angle_deg
    if wide is None or angle is None or wide <= hole.diameter_mm or not 0.0 < angle < 180.0:  # noqa: PLR2004
        return 0.0
    slope = 2.0 * math.tan(math.radians(angle) / 2.0)
    deep = min(depth, (wide - hole.diameter_mm) / slope)
    low = wide - slope * deep
    cone = math.pi * deep / 12.0 * (wide**2 + wide * low + low**2)
    return cone - math.pi * hole.diameter_mm**2 / 4.0 * deep


def _outline(part: Part, leg: LegName, outlines: Outlines | None) -> Contour:
    return (leg_outline(part, leg) if outlines is None else outlines[leg]).contour


def _trimmed_area(part: Part, leg: LegName, contour: Contour) -> float:
    """Return the area in mm2 that trims take from a leg, at the middle of its thickness."""
    if not leg_of(part, leg).trims and isinstance(part.section, Flat):
        return 0.0
    width = leg_width(part.section, leg)
    start, far = end_line(part, "start", leg), end_line(part, "far", leg)
    whole = width * (far.at(width / 2.0) - start.at(width / 2.0))
    cut = whole - area(contour)
    if isinstance(part.section, Flat) or explicit_outline(part, leg):
        return cut
    # Deeper in the leg the end plane lies farther out by the slope of the other leg's trace.
    slopes = {end: _slope_of_other(part, leg, end) for end in _ENDS}
    if any(slopes.values()):
        corners = walk(part, leg).corners
        for end, slope in slopes.items():
            taken = corners[end, "heel"].end_y + width - corners[end, "toe"].end_y
            cut += taken * part.section.thickness_mm / 2.0 * slope
    return cut


def _slope_of_other(part: Part, leg: LegName, end: End) -> float:
    return math.tan(math.radians(end_angle_deg(part, end, "b" if leg == "a" else "a")))


def _heel_counted_twice(part: Part, contour_a: Contour, contour_b: Contour) -> float:
    """Return the corner that cuts at the heel took from both legs, mm3."""
    t = part.section.thickness_mm
    start, far = end_line(part, "start", "a").heel_x, end_line(part, "far", "a").heel_x
    gap = heel_gaps(contour_a, start, far)
    if gap == 0.0 or heel_gaps(contour_b, start, far) == 0.0:
        return 0.0
    volume = gap * t * t
    if not (explicit_outline(part, "a") or explicit_outline(part, "b")):
        corners = walk(part, "a").corners
        for end in _ENDS:
            if corners[end, "heel"].is_cope:
                slopes = _slope_of_other(part, "a", end) + _slope_of_other(part, "b", end)
                volume += t**3 / 2.0 * slopes
    return volume
