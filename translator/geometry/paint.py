"""Area to paint."""

import math

from translator.geometry.ends import end_angle_deg
from translator.geometry.sections import section_area_mm2, section_perimeter_mm
from translator.model import Part, leg_names
from translator.model.trims import End

_ENDS: tuple[End, ...] = ("start", "far")


def paint_area_m2(part: Part) -> float:
    """Return the area to paint in m2.

    perimeter x length + two end faces: the section's outline with its radii (the painting
    surface per metre of the EN 10056-1 tables) along the overall length, and the section's area
    at each end, times sqrt(1 + tan^2 a + tan^2 b) where the end is a mitre. As the trade bills
    it, holes and trims are neither deducted nor their edges added.
    """
    sides = section_perimeter_mm(part.section) * part.length_mm
    ends = section_area_mm2(part.section) * sum(_stretch(part, end) for end in _ENDS)
    return (sides + ends) / 1e6


def _stretch(part: Part, end: End) -> float:
    slopes = (math.tan(math.radians(end_angle_deg(part, end, leg))) for leg in leg_names(part))
    return math.sqrt(1.0 + sum(slope * slope for slope in slopes))
