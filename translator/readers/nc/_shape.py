"""Outlines to ends and trims: held against the header, then recognised."""

import math
from collections.abc import Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.geometry.contours import (
    Contour,
    area,
    bounds,
    contour_edges,
    crosses_itself,
    vertex,
)
from translator.geometry.recognise import recognise
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    FlatEnd,
    FlatEnds,
    LegName,
    Trim,
    leg_width,
)
from translator.readers.nc._arcs import Corner
from translator.readers.nc._book import Book
from translator.readers.nc._items import Layout
from translator.readers.nc._records import Records
from translator.readers.nc._tidy import tidied

_SAME_MM: Final = 0.05
"""A contour and the header agree within this."""

_SAME_DEG: Final = 0.2
_TURNED_MM: Final = 0.015
_SMALLEST_MM2: Final = 1e-3
_STEEPEST_DEG: Final = 89.0
_LINE_LENGTH: Final = 9
_CUT_LINES: Final = 17
_RECTANGLE: Final = 4


class Shape(Struct, frozen=True, kw_only=True):
    """Ends and trims of a piece; legs without an entry have no trims."""

    ends: AngleEnds | FlatEnds
    trims: Mapping[LegName, tuple[Trim, ...]]


def shape_of(records: Records, layout: Layout, book: Book) -> Shape | None:
    """Return the ends and trims of a piece; None with errors in the book."""
    contours = {leg: contour_of(outline.ring) for leg, outline in layout.outlines.items()}
    if not all(_is_sound(leg, contours[leg], layout, book) for leg in contours):
        return None
    if not _cuts_agree(records, layout, contours, book):
        return None
    if not contours or all(_is_plain(c, leg, records) for leg, c in contours.items()):
        return _by_header(records, layout, book)
    whole = _with_other_leg(records, layout, contours)
    if not _sizes_agree(records, layout, whole, book):
        return None
    found = recognise(records.section, records.length, whole)
    if found is None:
        line = next(iter(layout.outlines.values())).line
        book.refuse("nc-contour", "the outer contours leave no material", line)
        return None
    drawn = tidied(records, found, whole)
    return Shape(ends=drawn.ends, trims=drawn.trims)


def contour_of(ring: Sequence[Corner]) -> Contour:
    """Turn a ring into vertices of the model."""
    return tuple(vertex(corner.x, corner.y, corner.bulge) for corner in ring)


def _is_sound(leg: LegName, contour: Contour, layout: Layout, book: Book) -> bool:
    line = layout.outlines[leg].line
    if area(contour) <= _SMALLEST_MM2:
        book.refuse("nc-contour", f"the outer contour of {_leg(leg)} encloses nothing", line)
        return False
    if crosses_itself(contour):
        book.refuse("nc-contour", f"the outer contour of {_leg(leg)} crosses itself", line)
        return False
    return True


def _leg(leg: LegName) -> str:
    return "the face" if leg == "face" else f"leg {leg}"


def _is_plain(contour: Contour, leg: LegName, records: Records) -> bool:
    width = leg_width(records.section, leg)
    corners = {(v.x_mm, v.y_mm) for v in contour}
    length = records.length
    return (
        len(contour) == _RECTANGLE
        and not any(v.bulge for v in contour)
        and corners == {(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)}
    )


def _by_header(records: Records, layout: Layout, book: Book) -> Shape | None:
    """Return the ends that the header's cut angles give; a leg without contour is plain."""
    cuts = layout.cuts
    for (end, leg), value in cuts.items():
        if abs(value) >= _STEEPEST_DEG:
            text = f"the {end} cut of {_leg(leg)} is {value:g} degrees, not under 89"
            book.refuse("nc-cut-angle", text, records.header.lines[_CUT_LINES])
            return None
    if not isinstance(records.section, Angle):
        return Shape(
            ends=FlatEnds(
                start=FlatEnd(face_deg=cuts.get(("start", "face"), 0.0)),
                far=FlatEnd(face_deg=cuts.get(("far", "face"), 0.0)),
            ),
            trims={},
        )
    start, far = (
        AngleEnd(leg_a_deg=cuts.get((end, "a"), 0.0), leg_b_deg=cuts.get((end, "b"), 0.0))
        for end in ("start", "far")
    )
    return Shape(ends=AngleEnds(start=start, far=far), trims={})


def _with_other_leg(
    records: Records, layout: Layout, contours: Mapping[LegName, Contour]
) -> dict[LegName, Contour]:
    """Give the leg of an angle that has no contour the one that the header leaves it.

    It is the plain rectangle, unless the header's cut angles say that an end is cut through:
    then it begins where the other leg's contour leaves the heel.
    """
    whole = dict(contours)
    if not isinstance(records.section, Angle) or len(whole) > 1:
        return whole
    given: LegName = "a" if "a" in whole else "b"
    other: LegName = "b" if given == "a" else "a"
    cuts = records.header.cuts
    width = leg_width(records.section, other)
    heel = [x for e in contour_edges(whole[given]) if e.ay == e.by == 0.0 for x in (e.ax, e.bx)]
    start, far = 0.0, records.length
    if heel and any((cuts.web_start, cuts.flange_start)):
        start = min(heel)
    if heel and any((cuts.web_end, cuts.flange_end)):
        far = max(heel)
    lean = {
        end: width * math.tan(math.radians(layout.cuts.get((end, other), 0.0)))
        for end in ("start", "far")
    }
    whole[other] = (
        vertex(start, 0.0),
        vertex(far, 0.0),
        vertex(far + lean["far"], width),
        vertex(start - lean["start"], width),
    )
    return whole


def _sizes_agree(
    records: Records, layout: Layout, contours: Mapping[LegName, Contour], book: Book
) -> bool:
    """Hold the contours' extents against the header's length and leg sizes."""
    boxes = {leg: bounds(contour) for leg, contour in contours.items()}
    line = next(iter(layout.outlines.values())).line
    left, right = min(b[0] for b in boxes.values()), max(b[2] for b in boxes.values())
    length = records.length
    if abs(left) > _SAME_MM or abs(right - length) > _SAME_MM:
        if abs(right - left - length) <= _SAME_MM:
            text = (
                f"the contour begins at x {left:.2f} mm and not at 0, and is as long as the header"
                f" says: all x seem to be shifted by {left:.2f} mm; nothing was moved"
            )
        else:
            text = (
                f"the contour runs from x {left:.2f} to {right:.2f} mm, the header's length is"
                f" {length:.2f} mm (more than {_SAME_MM:g} mm off)"
            )
        book.refuse("nc-contour-size", text, line)
        return False
    return all(_width_agrees(records, layout, leg, box, book) for leg, box in boxes.items())


def _width_agrees(
    records: Records,
    layout: Layout,
    leg: LegName,
    box: tuple[float, float, float, float],
    book: Book,
) -> bool:
    low, high, width = box[1], box[3], leg_width(records.section, leg)
    line = layout.outlines[leg].line if leg in layout.outlines else 1
    reach = f"the contour of {_leg(leg)} reaches from {low:.2f} to {high:.2f} mm across"
    if low < -_SAME_MM or high > width + _SAME_MM:
        text = f"{reach}, beyond the header's {width:.2f} mm"
        book.refuse("nc-contour-size", text, line)
        return False
    if low > _SAME_MM or high < width - _SAME_MM:
        text = f"{reach}, nowhere up to both edges of the header's {width:.2f} mm"
        book.warn("nc-contour-size", text, line)
    return True


def _cuts_agree(
    records: Records, layout: Layout, contours: Mapping[LegName, Contour], book: Book
) -> bool:
    """Hold the header's cut angles against the contours of the legs that have one."""
    cuts, header = records.header.cuts, records.header
    is_angle = isinstance(records.section, Angle)
    first: LegName = "a" if is_angle else "face"
    checks: list[tuple[LegName, str, float, int]] = [
        (first, "start", cuts.web_start, 0),
        (first, "far", cuts.web_end, 1),
    ]
    if is_angle:
        checks += [("b", "start", cuts.flange_start, 2), ("b", "far", cuts.flange_end, 3)]
    sound = True
    for leg, end, angle, offset in checks:
        if not angle or leg not in contours:
            continue
        slopes = end_slopes(contours[leg], records.length, end)
        line = header.lines[_CUT_LINES + offset]
        if any(abs(slope - abs(angle)) <= slack for slope, slack in slopes):
            continue
        if any(abs(slope - (90.0 - abs(angle))) <= slack for slope, slack in slopes):
            text = f"the header's {end} cut of {angle:g} degrees is the complement of the contour's"
            book.warn("nc-cut-angle", text, line)
            continue
        text = (
            f"the header cuts the {end} end of {_leg(leg)} at {angle:g} degrees, its contour (line"
            f" {layout.outlines[leg].line}) has no such edge there"
        )
        book.refuse("nc-cut-angle", text, line)
        sound = False
    return sound


def end_slopes(contour: Contour, length: float, end: str) -> tuple[tuple[float, float], ...]:
    """Return the angles from the square of the straight edges in one half of a contour.

    With each comes how far rounding to 0.01 mm may have turned an edge of that length.
    """
    found = []
    for edge in contour_edges(contour):
        middle = (edge.ax + edge.bx) / 2
        if edge.bulge or edge.ay == edge.by or (middle < length / 2) != (end == "start"):
            continue
        dx, dy = abs(edge.bx - edge.ax), abs(edge.by - edge.ay)
        slack = max(_SAME_DEG, math.degrees(_TURNED_MM / math.hypot(dx, dy)))
        found.append((math.degrees(math.atan2(dx, dy)), slack))
    return tuple(found)
