"""The header's 24 lines."""

import math
from typing import Final

from translator.conventions import AUTO, Conventions
from translator.emitters.nc._spelling import number, rounded, text
from translator.errors import CannotRepresentError
from translator.model import Angle, AngleEnds, FlatEnds, Part
from translator.tables.designations import designation_of

_TEXTS: Final = 4
_NO_MARKS: Final = ("-", ".")
_WIDTH: Final = 12


def header(part: Part, settings: Conventions, length: float) -> list[str]:
    """Return the header's lines without ST.

    Args:
        part: the part.
        settings: for the signs of the cut angles.
        length: of the finished piece, between its outermost points.

    Raises:
        CannotRepresentError: for a mark that a reader would not find again.
    """
    if part.mark in _NO_MARKS or part.mark != part.mark.strip():
        raise CannotRepresentError(
            f"the mark {part.mark!r} would be lost: the format takes it as not given or strips it"
        )
    name = part.section.designation or designation_of(part.section)
    first = [part.order, part.drawing, part.phase, part.mark, part.grade]
    code = "L" if isinstance(part.section, Angle) else "B"
    return [
        *(text(value) for value in first),
        f"  {part.quantity}",
        text(name),
        f"  {code}",
        _lengths(part, length),
        *(number(value, _WIDTH) for value in _sizes(part)),
        *(number(value, _WIDTH, 3) for value in (*_stated(part), *_cuts(part, settings))),
        *_texts(part),
    ]


def _lengths(part: Part, length: float) -> str:
    """Return the finished length, and the length to saw where it is known or differs."""
    saw = part.stated.saw_length_mm if part.stated is not None else None
    if rounded(length) <= 0.0:
        raise CannotRepresentError(f"the length {length:g} mm is 0 when rounded to 0.01 mm")
    if saw is None and rounded(length) != rounded(part.length_mm):
        saw = part.length_mm
    first = number(length, _WIDTH)
    return first if saw is None else f"{first},{number(saw, 11)}"


def _sizes(part: Part) -> tuple[float, ...]:
    section = part.section
    if isinstance(section, Angle):
        sizes = (section.leg_a_mm, section.leg_b_mm, section.thickness_mm, section.thickness_mm)
        radius = section.root_radius_mm
    else:
        sizes = (section.width_mm, 0.0, 0.0, section.thickness_mm)
        radius = 0.0
    if rounded(section.thickness_mm) <= 0.0:
        raise CannotRepresentError("the thickness is 0 when rounded to 0.01 mm")
    return (*sizes, radius)


def _stated(part: Part) -> tuple[float, float]:
    """Return mass and paint area per metre as the source stated them, 0 where it did not."""
    stated = part.stated
    if stated is None:
        return 0.0, 0.0
    return stated.mass_per_metre_kg or 0.0, stated.paint_area_per_metre_m2 or 0.0


def _cuts(part: Part, settings: Conventions) -> tuple[float, ...]:
    """Return the four cut angles, 0 where a setting that they need is open.

    With an outline in the file they are only a hint for the saw. Seen in the view, the trace
    of a start cut that is long at the upper edge leans to the left, that of a far cut to the
    right.
    """
    if settings.mitre_sign == AUTO:
        return (0.0, 0.0, 0.0, 0.0)
    left = 1.0 if settings.mitre_sign == "plus-left" else -1.0
    ends = part.ends
    if isinstance(ends, FlatEnds):
        return (left * ends.start.face_deg, -left * ends.far.face_deg, 0.0, 0.0)
    return (
        left * ends.start.leg_a_deg,
        -left * ends.far.leg_a_deg,
        *_flange_cuts(ends, settings, left),
    )


def _flange_cuts(ends: AngleEnds, settings: Conventions, left: float) -> tuple[float, float]:
    upright = settings.u_view_bottom == "heel" or settings.flange_cut_view == "o"
    if not upright and AUTO in (settings.u_view_bottom, settings.flange_cut_view):
        return (0.0, 0.0)
    sign = left if upright else -left
    return (sign * ends.start.leg_b_deg, -sign * ends.far.leg_b_deg)


def has_cuts(part: Part) -> bool:
    """Tell whether an end of a part is cut askew."""
    values = [value for end in (part.ends.start, part.ends.far) for _, value in end]
    return any(math.fabs(value) > 0.0 for value in values)


def _texts(part: Part) -> list[str]:
    """Return the four text lines: title, then remarks."""
    lines = [part.title, *part.remarks][:_TEXTS]
    return [text(line) for line in (*lines, *[None] * (_TEXTS - len(lines)))]
