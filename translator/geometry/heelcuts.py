"""Cuts at the heel of an angle: what one leg's cope takes from the other leg.

A cope at the heel of one leg removes the corner of thickness x thickness, so the other leg's
outer face shows a cut up to the same x and at least one thickness deep.
"""

from typing import Final

from msgspec import Struct

from translator.geometry.cuts import OutlineFault, mm
from translator.geometry.ends import outermost_x
from translator.model import Cope, LegName, Part, leg_of, on_grid, trim_path
from translator.model.trims import End

SAME_PLANE_MM: Final = 0.01
"""Heel copes of both legs that differ by no more than this along x are one cut."""


class HeelCut(Struct, frozen=True, kw_only=True):
    """A cut at the heel of one leg's end.

    Attributes:
        plane_x: x of its square side, millimetres.
        across: its depth from the heel on this leg.
        radius: of its inside corner.
        element: path of the trim it comes from, on this leg or on the other.
        is_derived: True when the other leg's cope takes it and this leg says nothing.
        faults: what does not agree, told once, on the leg that says it.
    """

    plane_x: float
    across: float
    radius: float
    element: str
    is_derived: bool
    faults: tuple[OutlineFault, ...] = ()


def other_leg(leg: LegName) -> LegName:
    """Return the leg of an angle across the heel."""
    return "b" if leg == "a" else "a"


def heel_cut(part: Part, leg: LegName, end: End) -> HeelCut | None:
    """Return what is cut from the heel of an angle's leg at one end, None when nothing is."""
    own = _heel_cope(part, leg, end)
    across = _heel_cope(part, other_leg(leg), end)
    if own is None:
        if across is None:
            return None
        element, cope = across
        return HeelCut(
            plane_x=_plane(part, other_leg(leg), cope),
            across=part.section.thickness_mm,
            radius=0.0,
            element=element,
            is_derived=True,
        )
    element, cope = own
    plane = _plane(part, leg, cope)
    faults = _too_shallow(cope, element, part.section.thickness_mm)
    if across is not None:
        theirs = _plane(part, other_leg(leg), across[1])
        if abs(theirs - plane) > SAME_PLANE_MM:
            faults = (*faults, _disagreement(element, leg, plane, theirs))
        elif leg == "b":
            plane = theirs
    return HeelCut(
        plane_x=plane,
        across=cope.across_mm,
        radius=cope.radius_mm,
        element=element,
        is_derived=False,
        faults=faults,
    )


def _heel_cope(part: Part, leg: LegName, end: End) -> tuple[str, Cope] | None:
    for index, trim in enumerate(leg_of(part, leg).trims):
        if isinstance(trim, Cope) and trim.side == "heel" and trim.end == end:
            return (trim_path(leg, index), trim)
    return None


def _plane(part: Part, leg: LegName, cope: Cope) -> float:
    outermost = outermost_x(part, cope.end, leg)
    return outermost + (cope.along_mm if cope.end == "start" else -cope.along_mm)


def _too_shallow(cope: Cope, element: str, thickness: float) -> tuple[OutlineFault, ...]:
    least = thickness + cope.radius_mm
    if cope.across_mm >= least:
        return ()
    what = "thickness" if cope.radius_mm == 0.0 else "thickness and the cope's radius"
    return (
        OutlineFault(
            element=element,
            message=f"the cope at the heel is {mm(cope.across_mm)} deep, less than the"
            f" {mm(least)} of the {what}; it would leave the corner of the angle half cut",
            value=cope.across_mm,
            limit=on_grid(least),
        ),
    )


def _disagreement(element: str, leg: LegName, plane: float, theirs: float) -> OutlineFault:
    return OutlineFault(
        element=element,
        message=f"the cope at the heel of leg {leg} ends at x = {mm(plane)}, that of leg"
        f" {other_leg(leg)} at x = {mm(theirs)}; both cut the one heel, so they must agree",
        value=on_grid(plane),
        limit=on_grid(theirs),
    )
