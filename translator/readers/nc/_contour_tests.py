"""Tests that speak for one value of an open convention: contours, arcs and end cuts."""

import math
from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise
from typing import Final

from translator.conventions import Weight
from translator.geometry.contours import Contour, vertex
from translator.model import Angle, leg_width
from translator.readers.nc._arcs import Corner, tangent_sign
from translator.readers.nc._items import Remarks
from translator.readers.nc._records import ContourRecord, Records
from translator.readers.nc._rings import Run, bulges_of, round_of, run_of
from translator.readers.nc._seen import Seen
from translator.readers.nc._views import Frame

_NEAR_MM: Final = 0.5
_EDGE_MM: Final = 0.05
_SAME_DEG: Final = 0.2
_LEAST_DEG: Final = 0.5
_LEAST_SHARE: Final = 0.5

_Gaps = tuple[tuple[float, float], ...]


def _run(records: Records, contour: ContourRecord) -> Run | None:
    """Return a closed contour in its view, y from the lower edge; None if y may differ."""
    if any(point.ref != "u" for point in contour.points):
        return None
    is_front = not isinstance(records.section, Angle) or contour.view in ("v", "h")
    leg = "a" if is_front else "b"
    width = leg_width(records.section, leg)
    frame = Frame(leg="a", width=width, is_flipped=False, is_inner=False, datum="view-bottom")
    run = run_of(contour, frame, Remarks())
    return run if run.is_closed else None


def outline_of(records: Records, view: str) -> Contour:
    """Return the one outer contour of a view, arcs drawn straight; () when it is not plain."""
    runs = [run for c in records.outers if c.view == view for run in [_run(records, c)]]
    if len(runs) != 1 or runs[0] is None:
        return ()
    return tuple(vertex(x, y) for x, y in runs[0].points)


def heel_corner(records: Records) -> Iterable[Seen]:
    """A cut at the heel takes the t x t corner, so the other leg's contour shows it too.

    The edge of view u whose gaps are those of the heel edge of view v is the heel.
    """
    if not isinstance(records.section, Angle):
        return
    under = [(c, _run(records, c)) for c in records.outers if c.view == "u"]
    front = [run for c in records.outers if c.view == "v" for run in [_run(records, c)]]
    if len(under) != 1 or len(front) > 1 or under[0][1] is None:
        return
    contour, run = under[0]
    has_front = bool(front) and front[0] is not None
    heel = _gaps(front[0], 0.0, records.length) if front and front[0] is not None else ()
    if front and front[0] is None:
        return
    low = _gaps(run, 0.0, records.length)
    high = _gaps(run, records.section.leg_b_mm, records.length)
    fits_low, fits_high = _are_same(low, heel), _are_same(high, heel)
    if fits_low == fits_high:
        return
    value = "heel" if fits_low else "toe"
    edge = "lower" if fits_low else "upper"
    text = (
        f"of both edges of view u only the {edge} one is cut like the heel of view v"
        f" ({len(heel) or 'no'} cuts{'' if has_front else ', as it has no contour'}); a cut at the"
        " heel takes the corner from both legs, so that edge is the heel"
    )
    weight = Weight.NEAR_PROOF if has_front else Weight.HINT
    yield Seen(setting="u_view_bottom", value=value, weight=weight, message=text, line=contour.line)


def _gaps(run: Run | None, edge: float, length: float) -> _Gaps:
    """Return the stretches of x in which a contour leaves an edge of its view."""
    if run is None:
        return ()
    kept = sorted(
        (min(p[0], q[0]), max(p[0], q[0]))
        for (p, q), radius in zip(pairwise((*run.points, run.points[0])), run.radii, strict=True)
        if radius == 0.0 and max(abs(p[1] - edge), abs(q[1] - edge)) <= _EDGE_MM
    )
    gaps: list[tuple[float, float]] = []
    reached = 0.0
    for left, right in kept:
        if left - reached > _NEAR_MM:
            gaps.append((reached, left))
        reached = max(reached, right)
    if length - reached > _NEAR_MM:
        gaps.append((reached, length))
    return tuple(gaps)


def _are_same(first: _Gaps, second: _Gaps) -> bool:
    return len(first) == len(second) and all(
        abs(a - b) <= _NEAR_MM
        for p, q in zip(first, second, strict=True)
        for a, b in zip(p, q, strict=True)
    )


def tangent_arcs(records: Records) -> Iterable[Seen]:
    """Arcs that are tangent to their neighbours one way only; circles of several arcs."""
    for contour in (*records.outers, *records.inners):
        run = _run(records, contour)
        if run is None or not any(run.radii):
            continue
        sizes = bulges_of(run, Remarks())
        yield from _tangents(run, sizes)
        yield from _circle(run, sizes)


def _tangents(run: Run, sizes: tuple[float, ...]) -> Iterator[Seen]:
    for index, radius in enumerate(run.radii):
        sign = tangent_sign(run.points, sizes, index) if radius else 0
        if not sign:
            continue
        value = "plus-left" if (radius > 0.0) == (sign > 0) else "plus-right"
        text = f"the arc of radius {radius:g} is tangent to its neighbours under this reading only"
        yield Seen(
            setting="arc_sign",
            value=value,
            weight=Weight.PROOF,
            message=text,
            line=run.lines[index],
        )


def _circle(run: Run, sizes: tuple[float, ...]) -> Iterator[Seen]:
    """Yield the sign under which arcs of one radius close to a circle."""
    if not all(run.radii):
        return
    fits = []
    for value, plus in (("plus-left", 1.0), ("plus-right", -1.0)):
        ring = [
            Corner(x, y, plus * math.copysign(size, radius))
            for (x, y), size, radius in zip(run.points, sizes, run.radii, strict=True)
        ]
        if round_of(ring) is not None:
            fits.append(value)
    if len(fits) == 1:
        text = "the arcs close to a circle under this reading only"
        yield Seen(
            setting="arc_sign",
            value=fits[0],
            weight=Weight.PROOF,
            message=text,
            line=run.lines[0],
        )


def end_cuts(records: Records) -> Iterable[Seen]:
    """Header cut angles against the contour of the same view."""
    cuts, header = records.header.cuts, records.header
    web = _leaning(records, "v", cuts.web_start, cuts.web_end)
    for (angle, leans_left), offset in web:
        value = "plus-left" if (angle > 0.0) == leans_left else "plus-right"
        text = f"the header's cut of {angle:g} degrees leans this way in the contour of view v"
        line = header.lines[17 + offset]
        yield Seen(setting="mitre_sign", value=value, weight=Weight.PROOF, message=text, line=line)
    if not isinstance(records.section, Angle):
        return
    signs = {(angle > 0.0) == leans_left for (angle, leans_left), _ in web}
    if len(signs) != 1:
        return
    plus_left = signs.pop()
    for (angle, leans_left), offset in _leaning(records, "u", cuts.flange_start, cuts.flange_end):
        value = "u" if ((angle > 0.0) == leans_left) == plus_left else "o"
        text = f"the flange cut of {angle:g} degrees has the web cuts' sign in this view only"
        line = header.lines[19 + offset]
        yield Seen(
            setting="flange_cut_view", value=value, weight=Weight.PROOF, message=text, line=line
        )


def _leaning(
    records: Records, view: str, start: float, end: float
) -> list[tuple[tuple[float, bool], int]]:
    """Return (angle, leans to the left), and 0 or 1 for the end, where the contour shows it."""
    runs = [run for c in records.outers if c.view == view for run in [_run(records, c)]]
    if len(runs) != 1 or runs[0] is None:
        return []
    found = []
    for offset, angle in enumerate((start, end)):
        leans = _leans(runs[0], abs(angle), records.length / 2, at_start=offset == 0)
        if abs(angle) >= _LEAST_DEG and len(leans) == 1:
            found.append(((angle, leans.pop()), offset))
    return found


def _leans(run: Run, angle: float, middle: float, *, at_start: bool) -> set[bool]:
    """Return which way the long edges of one end lean that have an angle from the square."""
    heights = [y for _, y in run.points]
    least = _LEAST_SHARE * (max(heights) - min(heights))
    leans: set[bool] = set()
    for (ax, ay), (bx, by) in pairwise((*run.points, run.points[0])):
        dx, dy = bx - ax, by - ay
        if abs(dy) < least or dx == 0.0 or ((ax + bx) / 2 < middle) != at_start:
            continue
        if abs(math.degrees(math.atan2(abs(dx), abs(dy))) - angle) <= _SAME_DEG:
            leans.add((dx < 0.0) == (dy > 0.0))
    return leans


CONTOUR_TESTS: Final[tuple[Callable[[Records], Iterable[Seen]], ...]] = (
    heel_corner,
    tangent_arcs,
    end_cuts,
)
"""Tests on contours, in the order in which they are run."""
