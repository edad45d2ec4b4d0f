"""The outline of a leg, derived by walking its corners.

Counter-clockwise with y up: the heel from the start end, the far end, the toe, the start end.
Each corner holds at most one trim; notches lie between the corners on a long edge. Arcs stay
arcs. An explicit outline takes the place of ends and trims.
"""

from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.geometry.at_hand import at_hand
from translator.geometry.contours import Contour, arranged, bounds, crosses_itself, vertex
from translator.geometry.cuts import TOUCH_MM, OutlineFault, mm
from translator.geometry.ends import end_line
from translator.geometry.fillets import rounded
from translator.geometry.heelcuts import other_leg
from translator.geometry.heelline import heel_mismatch
from translator.geometry.walking import walk
from translator.model import (
    Angle,
    Cope,
    LegName,
    OutlineTrim,
    Part,
    leg_of,
    leg_width,
    on_grid,
    trim_path,
)

_FEWEST_CORNERS = 3

_CLOSE_MM: Final = 0.01
"""Two corners this near may be one: they are walked."""

OFF_LEG_MM = 0.05
"""An explicit outline may leave the leg's rectangle by no more than this."""

_KEPT: Final = 16
"""Outlines that are kept at hand: a part is read, checked and drawn one step after another, and
each step asks for the outlines of its legs."""


class LegOutline(Struct, frozen=True, kw_only=True):
    """The outline of one leg on its outer face.

    Attributes:
        contour: starts at the start end's heel corner and runs along the heel first; simple
            and without repeated corners when there are no faults, else the best that can be
            said, and empty when nothing can.
        faults: why the outline can't be made as the part says.
    """

    contour: Contour
    faults: tuple[OutlineFault, ...] = ()


@at_hand(_KEPT)
def leg_outline(part: Part, leg: LegName) -> LegOutline:
    """Derive the outline of one leg.

    A cope at the heel of an angle's other leg shows here as the cut of the one corner that
    both legs share.
    """
    outline = _own_outline(part, leg)
    told = explicit_outline(part, leg)
    if isinstance(part.section, Angle) and told is not None:
        other = _own_outline(part, other_leg(leg))
        fault = heel_mismatch(leg, outline.contour, other.contour, element=told[0])
        if fault is not None:
            return replace(outline, faults=(*outline.faults, fault))
    return outline


def explicit_outline(part: Part, leg: LegName) -> tuple[str, OutlineTrim] | None:
    """Return a leg's explicit outline with its element path, None when it has none."""
    for index, trim in enumerate(leg_of(part, leg).trims):
        if isinstance(trim, OutlineTrim):
            return (trim_path(leg, index), trim)
    return None


def _own_outline(part: Part, leg: LegName) -> LegOutline:
    told = explicit_outline(part, leg)
    if told is not None:
        return _as_told(part, leg, *told)
    too_short = _ends_meet(part, leg)
    if too_short is not None:
        return LegOutline(contour=(), faults=(too_short,))
    if not leg_of(part, leg).trims and not _is_cut_from_beside(part, leg):
        contour = _untrimmed(part, leg)
        if contour is not None:
            return LegOutline(contour=contour)
    steps = walk(part, leg)
    nodes = [
        *reversed(steps.corners["start", "heel"].nodes),
        *(node for cut in steps.notches["heel"] for node in cut.nodes),
        *steps.corners["far", "heel"].nodes,
        *reversed(steps.corners["far", "toe"].nodes),
        *(node for cut in reversed(steps.notches["toe"]) for node in reversed(cut.nodes)),
        *steps.corners["start", "toe"].nodes,
    ]
    raw, misfits = rounded(nodes)
    contour = arranged(raw)
    faults = (*steps.faults, *misfits)
    if not faults and leg_of(part, leg).trims:
        faults = _shape_faults(contour, f"legs.{leg}", f"the trims of {_leg_words(leg)}")
    return LegOutline(contour=contour, faults=faults)


def _is_cut_from_beside(part: Part, leg: LegName) -> bool:
    """Tell whether a cope at the heel of an angle's other leg may show on this one."""
    beside = () if leg == "face" else leg_of(part, other_leg(leg)).trims
    return any(isinstance(trim, Cope) for trim in beside)


def _untrimmed(part: Part, leg: LegName) -> Contour | None:
    """Return the four corners that a leg without trims has; None where two come close.

    It is what walking its corners gives, at a third of the time.
    """
    width = leg_width(part.section, leg)
    start, far = end_line(part, "start", leg), end_line(part, "far", leg)
    if min(far.at(y) - start.at(y) for y in (0.0, width)) < _CLOSE_MM:
        return None
    return (
        vertex(start.at(0.0), 0.0),
        vertex(far.at(0.0), 0.0),
        vertex(far.at(width), width),
        vertex(start.at(width), width),
    )


def _leg_words(leg: LegName) -> str:
    return "the face" if leg == "face" else f"leg {leg}"


def _as_told(part: Part, leg: LegName, element: str, trim: OutlineTrim) -> LegOutline:
    faults: list[OutlineFault] = []
    others = len(leg_of(part, leg).trims) - 1
    if others:
        faults.append(
            OutlineFault(
                element=element,
                message=f"{others} more trim{'s' if others > 1 else ''} beside an outline of"
                f" {_leg_words(leg)}, which stands alone: it is the whole shape of the leg",
                value=float(others),
                limit=0.0,
            )
        )
    contour = arranged(trim.contour)
    faults.extend(_shape_faults(contour, element, f"the outline of {_leg_words(leg)}"))
    if contour:
        faults.extend(_off_leg(part, leg, contour, element))
    return LegOutline(contour=contour, faults=tuple(faults))


def _off_leg(part: Part, leg: LegName, contour: Contour, element: str) -> list[OutlineFault]:
    left, low, right, high = bounds(contour)
    length, width = part.length_mm, leg_width(part.section, leg)
    checks = (
        ("begins at x =", left, 0.0, left < -OFF_LEG_MM, "before the start end at"),
        ("ends at x =", right, length, right > length + OFF_LEG_MM, "beyond the length of"),
        ("reaches y =", low, 0.0, low < -OFF_LEG_MM, "below the heel at"),
        ("reaches y =", high, width, high > width + OFF_LEG_MM, "beyond the leg's width of"),
    )
    return [
        OutlineFault(
            element=element,
            message=f"the outline of {_leg_words(leg)} {words} {mm(value)}, {where} {mm(limit)}",
            value=on_grid(value),
            limit=on_grid(limit),
        )
        for words, value, limit, is_off, where in checks
        if is_off
    ]


def _shape_faults(contour: Contour, element: str, what: str) -> tuple[OutlineFault, ...]:
    verb = "cross or touch each other" if what.startswith("the trims") else "crosses itself"
    if len(contour) < _FEWEST_CORNERS:
        return (OutlineFault(element=element, message=f"{what} leave{_s(what)} no material"),)
    if crosses_itself(contour):
        return (OutlineFault(element=element, message=f"{what} {verb}"),)
    return ()


def _s(what: str) -> str:
    return "" if what.startswith("the trims") else "s"


def _ends_meet(part: Part, leg: LegName) -> OutlineFault | None:
    """Tell when both end cuts cross within the leg."""
    start, far = end_line(part, "start", leg), end_line(part, "far", leg)
    width = leg_width(part.section, leg)
    short = max(start.at(y) - far.at(y) for y in (0.0, width))
    at_both = min(start.at(y) - far.at(y) for y in (0.0, width))
    if short <= TOUCH_MM and at_both < -TOUCH_MM:
        return None
    least = part.length_mm + short
    return OutlineFault(
        element="length",
        message=f"the length of {mm(part.length_mm)} is less than the {mm(least)} at which both"
        f" end cuts meet on {_leg_words(leg)}",
        value=part.length_mm,
        limit=on_grid(least),
    )
