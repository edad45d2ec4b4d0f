"""End cuts: the line that each end leaves on a leg's outer face.

A through cut is one plane. Its trace on a leg is, at the far end, x = heel + y tan(angle) and,
at the start end, x = heel - y tan(angle), the angle being that leg's. The heel's x is such that
the outermost outer-face point of both legs is 0 at the start and the length at the far end.
"""

import math

from msgspec import Struct

from translator.model import (
    Angle,
    AngleEnd,
    Flat,
    FlatEnds,
    LegName,
    Part,
    leg_names,
    leg_width,
    on_grid,
)
from translator.model.trims import End


class EndLine(Struct, frozen=True, kw_only=True):
    """The line x = heel_x + slope * y on a leg's outer face, not yet on the grid."""

    heel_x: float
    slope: float

    def at(self, y: float) -> float:
        """Return x at y, millimetres, not on the grid."""
        return self.heel_x + self.slope * y


def end_angle_deg(part: Part, end: End, leg: LegName) -> float:
    """Return the angle of an end's trace on a leg from the square, positive = long at the toe."""
    ends = part.ends
    if isinstance(ends, FlatEnds):
        return (ends.start if end == "start" else ends.far).face_deg
    cut = ends.start if end == "start" else ends.far
    return cut.leg_a_deg if leg == "a" else cut.leg_b_deg


def end_line(part: Part, end: End, leg: LegName) -> EndLine:
    """Return the line that an end's plane leaves on a leg's outer face, before any trim."""
    section, cut = part.section, part.ends.start if end == "start" else part.ends.far
    # Asked some fifteen times of each part, so it looks at every size and angle once only.
    if isinstance(cut, AngleEnd) and isinstance(section, Angle):
        a, b = _tangent(cut.leg_a_deg), _tangent(cut.leg_b_deg)
        own = a if leg == "a" else b
        reach = max(0.0, section.leg_a_mm * a, section.leg_b_mm * b)
    else:
        own = _tangent(end_angle_deg(part, end, leg))
        reach = max(0.0, leg_width(section, "face") * own)
    if end == "start":
        return EndLine(heel_x=reach, slope=-own)
    return EndLine(heel_x=part.length_mm - reach, slope=own)


def end_x(part: Part, end: End, leg: LegName, y: float) -> float:
    """Return x of an end's line on a leg at y from the heel, millimetres on the grid."""
    return on_grid(end_line(part, end, leg).at(y))


def heel_x(part: Part, end: End) -> float:
    """Return x where an end's plane meets the heel line, millimetres on the grid."""
    return on_grid(end_line(part, end, leg_names(part)[0]).heel_x)


def outermost_x(part: Part, end: End, leg: LegName) -> float:
    """Return x of the outermost point of an end on one leg, before trims; not on the grid."""
    return outermost_of(end_line(part, end, leg), end, leg_width(part.section, leg))


def outermost_of(line: EndLine, end: End, width: float) -> float:
    """Return x of the outermost point of an end's line on a leg of that width; not on the grid."""
    at_toe = line.at(width)
    return min(line.heel_x, at_toe) if end == "start" else max(line.heel_x, at_toe)


def plane_x(part: Part, end: End, along_a: float, along_b: float) -> float:
    """Return x of an end's plane inside the section, millimetres, not on the grid.

    ``along_a`` and ``along_b`` are distances from the heel along leg a's and leg b's outer
    face; a flat's cut is square through its thickness, so ``along_b`` says nothing there.
    """
    if isinstance(part.section, Flat):
        return end_line(part, end, "face").at(along_a)
    line_a, line_b = end_line(part, end, "a"), end_line(part, end, "b")
    return line_a.at(along_a) + line_b.slope * along_b


def _tangent(degrees: float) -> float:
    return math.tan(math.radians(degrees))
