"""Choose what a leg's dimensions say: places along and across, and runs of equal spaces.

Everything is in the model's frame of the leg: x from the start end, y from the heel, mm.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from itertools import groupby, pairwise
from typing import Final, NamedTuple

from msgspec import Struct

from translator.emitters.dxf._clip import reach as ends
from translator.geometry.contours import Contour
from translator.model import (
    CentreMark,
    Hole,
    LegName,
    Part,
    Slot,
    leg_of,
    leg_width,
    on_grid,
)

FEWEST_SPACES: Final = 3
"""So many equal spaces in a row are told by number and space; fewer are told one by one."""

SAME_MM: Final = 0.005
"""Places that differ by no more are dimensioned as one: rounding of another program."""

MOST_STATIONS: Final = 500
"""Places in one direction; beyond, no drawing reads, and only the ends are dimensioned."""

MOST_RUNS: Final = 40
"""Runs of equal spaces on one leg; beyond, each place is told by itself."""

MOST_CORNERS: Final = 60
"""Sharp corners of an outline that are dimensioned; a finer outline stands in the file only."""


_PLACED: Final = (Hole, Slot, CentreMark)


class Station(Struct, frozen=True, kw_only=True, gc=False):
    """A place to dimension.

    Attributes:
        value: its distance from the datum: the start end, or the heel.
        x: of the point that is measured.
        y: of that point.
        reach: how far from the point its dimension line may begin.
    """

    value: float
    x: float
    y: float
    reach: float = 0.0


class Run(NamedTuple):
    """Equal spaces on one gauge.

    Attributes:
        first: x of the first of ``spaces`` + 1 places.
        last: x of the last.
        spaces: how many there are.
        gauges: y of each gauge that has them.
    """

    first: float
    last: float
    spaces: int
    gauges: tuple[float, ...]


class Plan(NamedTuple):
    """What is dimensioned on one leg.

    Attributes:
        along: x of features and corners, rising; the inner places of runs left out.
        runs: equal spaces, by their first place.
        start: y of gauges and of corners at the start end, rising.
        far: y of corners at the far end, rising.
        left_out: how many places are not dimensioned, because there are too many.
    """

    along: tuple[Station, ...]
    runs: tuple[Run, ...]
    start: tuple[Station, ...]
    far: tuple[Station, ...]
    left_out: int


def plan(part: Part, leg: LegName, contour: Contour, kept: Iterable[Run] | None = None) -> Plan:
    """Choose the dimensions of one leg.

    Args:
        part: the part.
        leg: its leg.
        contour: the leg's outline.
        kept: runs to tell as such, when not all of them can be drawn.
    """
    placed = [f for f in leg_of(part, leg).features if isinstance(f, _PLACED)]
    lines: dict[float, set[float]] = {}
    for feature in placed:
        if feature.kind != "centre_mark":
            lines.setdefault(feature.y_mm, set()).add(feature.x_mm)
    runs = tuple(_runs(lines)) if kept is None else tuple(kept)
    if len(runs) > MOST_RUNS:
        runs = ()
    inner = {place for run in runs for place in _inner(lines, run)}
    lengthwise, crosswise, beyond = _of_outline(part, leg, contour)
    for feature in placed:
        x, y, room = feature.x_mm, feature.y_mm, reach(feature)
        crosswise.append(Station(value=y, x=x, y=y, reach=room))
        if (x, y) not in inner:
            lengthwise.append(Station(value=x, x=x, y=y, reach=room))
    along = _merged(lengthwise, lambda s: (-s.y, s.reach))
    start = _merged(crosswise, lambda s: (s.x, s.reach))
    far = _merged(beyond, lambda s: (-s.x, s.reach))
    left_out = 0
    if len(along) > MOST_STATIONS:
        left_out += len(along) - 2
        along = (along[0], along[-1])
    if len(start) > MOST_STATIONS:
        left_out += len(start) - 2
        start = (start[0], start[-1])
    return Plan(along, runs, start, far, left_out)


def reach(feature: Hole | Slot | CentreMark) -> float:
    """Return how far up and down from its middle a feature's own centre line goes, mm."""
    if feature.kind == "centre_mark":
        return 3.0
    if feature.kind == "hole":
        sink = feature.countersink_diameter_mm or 0.0
        half = max(feature.diameter_mm, sink) / 2.0
    else:
        straight = (feature.length_mm - feature.width_mm) / 2.0
        rise = abs(math.sin(math.radians(feature.angle_deg)))
        half = straight * rise + feature.width_mm / 2.0
    return half * 1.25 + 1.0


def _runs(lines: dict[float, set[float]]) -> Iterator[Run]:
    """Yield runs of equal spaces; those of two gauges are told once."""
    found: dict[tuple[float, float, int], list[float]] = {}
    for y, places in lines.items():
        if len(places) <= FEWEST_SPACES:
            continue
        steps = groupby(pairwise(sorted(places)), lambda pair: on_grid(pair[1] - pair[0]))
        for step, group in steps:
            pairs = list(group)
            first, last, spaces = pairs[0][0], pairs[-1][1], len(pairs)
            if spaces < FEWEST_SPACES or on_grid(step * spaces) != on_grid(last - first):
                continue
            found.setdefault((first, last, spaces), []).append(y)
    for key in sorted(found):
        yield Run(*key, tuple(found[key]))


def _inner(lines: dict[float, set[float]], run: Run) -> Iterator[tuple[float, float]]:
    return ((x, y) for y in run.gauges for x in lines[y] if run.first < x < run.last)


def _of_outline(
    part: Part, leg: LegName, contour: Contour
) -> tuple[list[Station], list[Station], list[Station]]:
    """Return what of an outline is measured along, across at the start, and at the far end."""
    lengthwise, crosswise = _ends(part, leg, contour), _edges(part, leg, contour)
    beyond: list[Station] = []
    width, middle = leg_width(part.section, leg), part.length_mm / 2.0
    notches = [trim for trim in leg_of(part, leg).trims if trim.kind == "notch"]
    for x, y in _corners(contour):
        lengthwise.append(Station(value=x, x=x, y=y))
        # Heel, toe and the corners of notches are not measured across at an end of the piece.
        if 0.0 != y != width and not any(cut.x_from_mm <= x <= cut.x_to_mm for cut in notches):
            (beyond if x > middle else crosswise).append(Station(value=y, x=x, y=y))
    return lengthwise, crosswise, beyond


def _ends(part: Part, leg: LegName, contour: Contour) -> list[Station]:
    """Return both ends of the piece, where this leg has them."""
    width = leg_width(part.section, leg)
    found = []
    for value, reached in zip((0.0, part.length_mm), ends(contour), strict=True):
        y = max([v.y_mm for v in contour if v.x_mm == value], default=width)
        found.append(Station(value=value, x=value, y=y if reached == value else width))
    return found


def _edges(part: Part, leg: LegName, contour: Contour) -> list[Station]:
    """Return heel and toe, where they are nearest to the start end."""
    found = []
    for value in (0.0, leg_width(part.section, leg)):
        x = min([v.x_mm for v in contour if v.y_mm == value], default=0.0)
        found.append(Station(value=value, x=x, y=value))
    return found


def _corners(contour: Contour) -> list[tuple[float, float]]:
    """Return corners at which no arc begins or ends: what a person can measure to."""
    before = [contour[-1], *contour[:-1]]
    sharp = [
        (here.x_mm, here.y_mm)
        for last, here in zip(before, contour, strict=True)
        if last.bulge == here.bulge == 0.0
    ]
    return sharp if len(sharp) <= MOST_CORNERS else []


def _merged(
    stations: Iterable[Station], order: Callable[[Station], tuple[float, float]]
) -> tuple[Station, ...]:
    """Keep one station a value, the least by an order; rising.

    Values closer than ``SAME_MM`` are one, told by the first.
    """
    found: dict[float, Station] = {}
    for station in stations:
        known = found.get(station.value)
        if known is None or order(station) < order(known):
            found[station.value] = station
    kept: list[Station] = []
    for value in sorted(found):
        if not kept or value - kept[-1].value > SAME_MM:
            kept.append(found[value])
    return tuple(kept)
