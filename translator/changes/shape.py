"""When two parts have one shape, however it is told: by cuts and trims, or corner by corner."""

import math
from collections.abc import Mapping, Sequence
from typing import Final

from translator.geometry.contours import Contour, closest, contour_edges
from translator.geometry.ends import outermost_x
from translator.geometry.heelcuts import heel_cut
from translator.geometry.outline import leg_outline
from translator.geometry.recognise import recognise
from translator.model import (
    Angle,
    Cope,
    LegName,
    OutlineTrim,
    Part,
    Trim,
    leg_names,
    leg_of,
    on_grid,
)
from translator.model.trims import End

NOISE_MM: Final = 5e-6
"""Outlines that differ by no more are one: it is the grid's own noise."""

OUTLINE_ROUNDING_MM: Final = 0.016
"""Corners of files that round to 0.01 mm lie off by no more than this."""

_MOST_PAIRS: Final = 250_000
_ENDS: Final[tuple[End, ...]] = ("start", "far")


def in_trims(part: Part) -> Part:
    """Return the part with outlines told corner by corner told by cuts and trims, if they can be.

    The outline stays the same to the grid's noise; where that can't be had the part stays as it is.
    """
    if not any(_explicit(part, leg) for leg in leg_names(part)):
        return part
    contours: dict[LegName, Contour] = {}
    for leg in leg_names(part):
        outline = leg_outline(part, leg)
        if outline.faults or not outline.contour:
            return part
        contours[leg] = outline.contour
    found = recognise(part.section, part.length_mm, contours)
    if found is None:
        return part
    legs: dict[str, object] = {
        leg: leg_of(part, leg).model_copy(update={"trims": found.trims[leg]})
        for leg in leg_names(part)
    }
    told = part.model_copy(update={"ends": found.ends, "legs": part.legs.model_copy(update=legs)})
    again = outlines(told)
    if again is None or _apart(contours, again) > NOISE_MM:
        return part
    return told


def _explicit(part: Part, leg: LegName) -> bool:
    return any(isinstance(trim, OutlineTrim) for trim in leg_of(part, leg).trims)


def outlines(part: Part) -> Mapping[LegName, Contour] | None:
    """Return the outline of each leg, None when one can't be made as the part says."""
    found: dict[LegName, Contour] = {}
    for leg in leg_names(part):
        outline = leg_outline(part, leg)
        if outline.faults or not outline.contour:
            return None
        found[leg] = outline.contour
    return found


def shape_difference(one: Part, two: Part) -> float:
    """Return by how many mm the outlines of two parts differ at most; infinite when unknown.

    Parts whose ends and trims are told alike differ by 0 without a look at their outlines.
    """
    if is_told_alike(one, two):
        return 0.0
    ours, theirs = outlines(one), outlines(two)
    if ours is None or theirs is None or ours.keys() != theirs.keys():
        return float("inf")
    return _apart(ours, theirs)


def is_told_alike(one: Part, two: Part) -> bool:
    """Tell whether section sizes, length, ends and trims are the same, whatever their order."""
    return (
        one.length_mm == two.length_mm
        and same_sizes(one, two)
        and one.ends == two.ends
        and all(
            trim_keys(leg_of(one, leg).trims) == trim_keys(leg_of(two, leg).trims)
            for leg in leg_names(one)
        )
    )


def same_sizes(one: Part, two: Part) -> bool:
    """Tell whether two sections have one kind and the same sizes; radii and names do not count."""
    return sizes(one) == sizes(two)


def sizes(part: Part) -> tuple[object, ...]:
    """Return the kind and sizes of a section."""
    section = part.section
    if isinstance(section, Angle):
        return (section.kind, section.leg_a_mm, section.leg_b_mm, section.thickness_mm)
    return (section.kind, section.width_mm, section.thickness_mm)


def trim_keys(trims: Sequence[Trim]) -> list[str]:
    """Return the trims of a leg as texts, in an order of their own."""
    return sorted(trim.model_dump_json() for trim in trims) if trims else []


def _apart(ours: Mapping[LegName, Contour], theirs: Mapping[LegName, Contour]) -> float:
    return max(contours_apart(ours[leg], theirs[leg]) for leg in ours)


def contours_apart(one: Contour, two: Contour) -> float:
    """Return how far two outlines lie apart at most, mm; infinite where it is too much to say.

    Corner by corner where both have the same number of them; else each corner, and the middle of
    each edge, is held against the other outline, both ways round.
    """
    if len(one) == len(two):
        off = max(
            max(abs(a.x_mm - b.x_mm), abs(a.y_mm - b.y_mm), _bulging(one, two, i))
            for i, (a, b) in enumerate(zip(one, two, strict=True))
        )
        if off <= OUTLINE_ROUNDING_MM or len(one) * len(two) > _MOST_PAIRS:
            return off
    if len(one) * len(two) > _MOST_PAIRS:
        return float("inf")
    return max(_beyond(one, two), _beyond(two, one))


def _bulging(one: Contour, two: Contour, index: int) -> float:
    """Return how far the middles of two arcs lie apart because of their bulge, mm."""
    if one[index].bulge == two[index].bulge:
        return 0.0
    start, stop = one[index], one[(index + 1) % len(one)]
    chord = math.hypot(stop.x_mm - start.x_mm, stop.y_mm - start.y_mm)
    return abs(one[index].bulge - two[index].bulge) * chord / 2.0


def _beyond(one: Contour, two: Contour) -> float:
    """Return how far corners and middles of edges of one outline lie off the other, at most."""
    worst = 0.0
    for edge in contour_edges(one):
        # The middle of an arc lies off the middle of its chord by bulge times half the chord.
        x = (edge.ax + edge.bx) / 2.0 + edge.bulge * (edge.by - edge.ay) / 2.0
        y = (edge.ay + edge.by) / 2.0 - edge.bulge * (edge.bx - edge.ax) / 2.0
        for place in ((edge.ax, edge.ay), (x, y)):
            worst = max(worst, closest(two, *place).distance)
    return worst


def told_trims(part: Part, leg: LegName) -> tuple[Trim, ...]:
    """Return the trims of a leg; a cut at the heel of an angle as both legs show it.

    A cope at the heel that says of this leg only what the other leg's cope takes anyway, the
    corner of thickness x thickness, is left out; so it does not matter on which leg it was told.
    """
    if not isinstance(part.section, Angle):
        return leg_of(part, leg).trims
    own = [t for t in leg_of(part, leg).trims if not _is_at_heel(t)]
    for end in _ENDS:
        cut = heel_cut(part, leg, end)
        if cut is not None and not _is_only_the_corner(part, leg, end):
            own.append(
                Cope(
                    end=end,
                    side="heel",
                    along_mm=on_grid(abs(cut.plane_x - outermost_x(part, end, leg))),
                    across_mm=cut.across,
                    radius_mm=cut.radius,
                )
            )
    return tuple(own)


def _is_at_heel(trim: Trim) -> bool:
    return isinstance(trim, Cope) and trim.side == "heel"


def _is_only_the_corner(part: Part, leg: LegName, end: End) -> bool:
    """Tell whether a leg's heel cut is what the other leg's takes; of two such, leg a has it."""
    cut = heel_cut(part, leg, end)
    other = heel_cut(part, "b" if leg == "a" else "a", end)
    t = part.section.thickness_mm
    if cut is None or cut.across != t or cut.radius or other is None:
        return False
    return leg == "b" or other.across != t or bool(other.radius)


def in_one_telling(part: Part) -> Part:
    """Return the part with its cuts at the heel told once; see ``told_trims``."""
    if not any(_is_at_heel(t) for leg in leg_names(part) for t in leg_of(part, leg).trims):
        return part
    if any(_explicit(part, leg) for leg in leg_names(part)):
        return part
    try:
        legs: dict[str, object] = {
            leg: leg_of(part, leg).model_copy(update={"trims": told_trims(part, leg)})
            for leg in leg_names(part)
        }
    except ValueError:  # a cope that runs out of the piece can't be told from the other end
        return part
    told = part.model_copy(update={"legs": part.legs.model_copy(update=legs)})
    return told if shape_difference(part, told) <= NOISE_MM else part
