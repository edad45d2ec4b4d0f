"""The heel line: the one line that the outer faces of both legs of an angle share."""

from itertools import pairwise
from typing import Final

from translator.geometry.contours import Contour, contour_edges
from translator.geometry.cuts import OutlineFault, mm
from translator.model import LegName, on_grid

HEEL_TOLERANCE_MM: Final = 0.02
"""How far the heel line of one leg may differ from that of the other, along x and in y."""


def heel_stretches(contour: Contour) -> tuple[tuple[float, float], ...]:
    """Return the stretches of the heel line that an outline keeps, as pairs of x, in order."""
    stretches = sorted(
        (min(e.ax, e.bx), max(e.ax, e.bx))
        for e in contour_edges(contour)
        if e.bulge == 0.0 and max(abs(e.ay), abs(e.by)) <= HEEL_TOLERANCE_MM and e.ax != e.bx
    )
    joined: list[tuple[float, float]] = []
    for left, right in stretches:
        if joined and left - joined[-1][1] <= HEEL_TOLERANCE_MM:
            joined[-1] = (joined[-1][0], max(joined[-1][1], right))
        else:
            joined.append((left, right))
    return tuple(joined)


def heel_mismatch(
    leg: LegName, own: Contour, other: Contour, *, element: str
) -> OutlineFault | None:
    """Tell where the outlines of both legs do not keep the same stretches of the heel line."""
    mine, theirs = heel_stretches(own), heel_stretches(other)
    across = "b" if leg == "a" else "a"
    for (left, right), (their_left, their_right) in zip(mine, theirs, strict=False):
        for value, limit in ((left, their_left), (right, their_right)):
            if abs(value - limit) > HEEL_TOLERANCE_MM:
                return OutlineFault(
                    element=element,
                    message=f"the outline of leg {leg} leaves the heel at x = {mm(value)}, that of"
                    f" leg {across} at x = {mm(limit)}; a cut at the heel takes the corner from"
                    " both legs",
                    value=on_grid(value),
                    limit=on_grid(limit),
                )
    if len(mine) != len(theirs):
        return OutlineFault(
            element=element,
            message=f"the outline of leg {leg} keeps {len(mine)} stretches of the heel, that of leg"
            f" {across} keeps {len(theirs)}; a cut at the heel takes the corner from both legs",
            value=float(len(mine)),
            limit=float(len(theirs)),
        )
    return None


def heel_gaps(contour: Contour, start_x: float, far_x: float) -> float:
    """Return how much of the heel line between two places an outline lacks, millimetres."""
    kept = heel_stretches(contour)
    ends = [start_x, *(x for stretch in kept for x in stretch), far_x]
    pairs = [pair for index, pair in enumerate(pairwise(ends)) if index % 2 == 0]
    return sum(max(0.0, right - left) for left, right in pairs)
