"""Walk the corners of a leg: which cut each one holds, and whether any two collide."""

from itertools import pairwise

from msgspec import Struct

from translator.geometry import cuts
from translator.geometry.cuts import TOUCH_MM, Corner, Cut, OutlineFault, mm
from translator.geometry.ends import EndLine, end_line, outermost_of
from translator.geometry.heelcuts import heel_cut, other_leg
from translator.model import (
    Angle,
    Clip,
    Cope,
    LegName,
    Notch,
    Part,
    Rounding,
    leg_of,
    leg_width,
    on_grid,
    trim_path,
)
from translator.model.trims import End

_ENDS: tuple[End, ...] = ("start", "far")
_SIDES = ("heel", "toe")
_HEEL_SIDES = ("heel", "lower")


class Walk(Struct, frozen=True, kw_only=True):
    """The cuts of a leg before they are joined: by corner and by edge.

    ``corners`` are keyed by end and by "heel" or "toe"; ``notches`` by "heel" or "toe", by x.
    """

    corners: dict[tuple[End, str], Cut]
    notches: dict[str, tuple[Cut, ...]]
    faults: tuple[OutlineFault, ...]


def walk(part: Part, leg: LegName) -> Walk:
    """Find the cut at each corner and edge of a leg that has no explicit outline."""
    faults: list[OutlineFault] = []
    corners: dict[tuple[End, str], Cut] = {}
    for end in _ENDS:
        line = end_line(part, end, leg)
        for side in _SIDES:
            cut, found = _corner_cut(part, leg, end, side, line)
            corners[end, side] = cut
            faults.extend(found)
    notches: dict[str, tuple[Cut, ...]] = {}
    for side in _SIDES:
        notches[side], found = _notches(part, leg, side)
        faults.extend(found)
    faults.extend(_overlaps(corners, notches))
    return Walk(corners=corners, notches=notches, faults=tuple(faults))


def _corner_cut(
    part: Part, leg: LegName, end: End, side: str, line: EndLine
) -> tuple[Cut, tuple[OutlineFault, ...]]:
    """Return the cut at one corner, and what is wrong with it."""
    width = leg_width(part.section, leg)
    corner = Corner(
        end=end,
        line=line,
        edge_y=0.0 if side == "heel" else width,
        width=width,
        outermost_x=outermost_of(line, end, width),
    )
    found = [
        (trim_path(leg, index), trim)
        for index, trim in enumerate(leg_of(part, leg).trims)
        if isinstance(trim, Cope | Clip | Rounding)
        and trim.end == end
        and (trim.side in _HEEL_SIDES) == (side == "heel")
    ]
    faults = tuple(_second_trim(element, trim) for element, trim in found[1:])
    if isinstance(part.section, Angle) and side == "heel":
        return _heel_corner(part, leg, corner, (*faults, *_not_at_heel(found)))
    if not found:
        return cuts.plain_corner(corner), faults
    return _or_plain(corner, _trimmed(corner, *found[0]), faults)


def _or_plain(
    corner: Corner, made: Cut | OutlineFault, faults: tuple[OutlineFault, ...]
) -> tuple[Cut, tuple[OutlineFault, ...]]:
    if isinstance(made, OutlineFault):
        return cuts.plain_corner(corner), (*faults, made)
    return made, faults


def _trimmed(corner: Corner, element: str, trim: Cope | Clip | Rounding) -> Cut | OutlineFault:
    if isinstance(trim, Clip):
        return cuts.clip(corner, trim, element)
    if isinstance(trim, Rounding):
        return cuts.rounding(corner, trim, element)
    return cuts.cope(
        corner,
        plane_x=corner.outermost_x + corner.into * trim.along_mm,
        across=trim.across_mm,
        radius=trim.radius_mm,
        element=element,
        name=f"cope at the {trim.end} end's {trim.side} corner",
    )


def _heel_corner(
    part: Part, leg: LegName, corner: Corner, faults: tuple[OutlineFault, ...]
) -> tuple[Cut, tuple[OutlineFault, ...]]:
    cut = heel_cut(part, leg, corner.end)
    if cut is None:
        return cuts.plain_corner(corner), faults
    faults = (*faults, *cut.faults)
    whose = f" of leg {other_leg(leg)}, which cuts leg {leg} too," if cut.is_derived else ""
    made = cuts.cope(
        corner,
        plane_x=cut.plane_x,
        across=cut.across,
        radius=cut.radius,
        element=cut.element,
        name=f"cope at the {corner.end} end's heel{whose}",
    )
    return _or_plain(corner, made, faults)


def _second_trim(element: str, trim: Cope | Clip | Rounding) -> OutlineFault:
    return OutlineFault(
        element=element,
        message=f"a {trim.kind} where the {trim.end} end's {trim.side} corner has a trim already;"
        " a corner takes one, a further shape is told as an outline",
    )


def _not_at_heel(found: list[tuple[str, Cope | Clip | Rounding]]) -> tuple[OutlineFault, ...]:
    return tuple(
        OutlineFault(
            element=element,
            message=f"a {trim.kind} at the heel of an angle cuts both legs at once and can't be"
            " told on one leg; use a cope, or give both legs an outline",
        )
        for element, trim in found
        if not isinstance(trim, Cope)
    )


def _notches(
    part: Part, leg: LegName, side: str
) -> tuple[tuple[Cut, ...], tuple[OutlineFault, ...]]:
    width = leg_width(part.section, leg)
    made: list[Cut] = []
    faults: list[OutlineFault] = []
    for index, trim in enumerate(leg_of(part, leg).trims):
        if not isinstance(trim, Notch) or (trim.side in _HEEL_SIDES) != (side == "heel"):
            continue
        element = trim_path(leg, index)
        if isinstance(part.section, Angle) and side == "heel":
            faults.append(_notch_at_heel(element, trim))
            continue
        cut = cuts.notch(trim, 0.0 if side == "heel" else width, width, element)
        if isinstance(cut, OutlineFault):
            faults.append(cut)
        else:
            made.append(cut)
    return tuple(sorted(made, key=lambda cut: (cut.edge_from, cut.edge_to))), tuple(faults)


def _notch_at_heel(element: str, trim: Notch) -> OutlineFault:
    return OutlineFault(
        element=element,
        message=f"a notch from {mm(trim.x_from_mm)} to {mm(trim.x_to_mm)} at the heel of an angle"
        " cuts both legs at once and can't be told on one leg; give both legs an outline",
    )


def _overlaps(
    corners: dict[tuple[End, str], Cut], notches: dict[str, tuple[Cut, ...]]
) -> list[OutlineFault]:
    """Tell where two cuts take the same stretch of an edge or of an end line."""
    faults: list[OutlineFault] = []
    for side in _SIDES:
        row = (corners["start", side], *notches[side], corners["far", side])
        for before, after in pairwise(row):
            if before.edge_to > after.edge_from + TOUCH_MM:
                faults.append(_overlap(before, after, "x", before.edge_to, after.edge_from))
    for end in _ENDS:
        low, high = corners[end, "heel"], corners[end, "toe"]
        over = low.end_y - high.end_y
        if over > TOUCH_MM or (low.is_cope and high.is_cope and over > -TOUCH_MM):
            faults.append(_overlap(low, high, "y", low.end_y, high.end_y))
    return faults


def _overlap(before: Cut, after: Cut, axis: str, value: float, limit: float) -> OutlineFault:
    return OutlineFault(
        element=after.element or before.element,
        message=f"the {before.name} reaches to {axis} = {mm(value)}, and the {after.name} already"
        f" begins at {axis} = {mm(limit)}",
        value=on_grid(value),
        limit=on_grid(limit),
    )
