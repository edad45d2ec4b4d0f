"""Steel between punched holes, and between a hole and the cut that parts the piece."""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Final

from translator.geometry.clearance import clear_distance, extent, slot_centres
from translator.geometry.ends import EndLine, end_line
from translator.machines.cutting_off import Shear
from translator.machines.lay import Lay
from translator.machines.making import Made
from translator.machines.ranges import SLACK_MM
from translator.machines.reasons import Reason, leg_words, length_words, named
from translator.machines.stations import Station
from translator.model import Hole, LegName, Slot, feature_path, leg_of
from translator.model.trims import End

MOST_PAIRS: Final = 10_000
"""Pairs of holes compared on one leg; real pieces have a few dozen neighbours."""

Punched = tuple[Hole | Slot, Station]


def thin_webs(lay: Lay, made: Mapping[tuple[LegName, str], Made]) -> Iterator[Reason]:
    """Yield each punched hole with less steel to an earlier neighbour than die or stripper need."""
    for leg in lay.legs:
        punched = [
            (feature, station)
            for feature, station in _made(lay, leg, made)
            if station.process == "punch" and _web(station) > 0.0
        ]
        yield from _thin(lay, leg, punched)


def near_cuts(lay: Lay, made: Mapping[tuple[LegName, str], Made]) -> Iterator[Reason]:
    """Yield each hole with less steel to a sheared end than the shear needs."""
    cut = lay.machine.cut_off
    if not isinstance(cut, Shear) or cut.least_hole_to_cut_mm is None:
        return
    limit = cut.least_hole_to_cut_mm
    for leg in lay.legs:
        lines = {end: _cut_line(lay, cut, end, leg) for end in _ENDS}
        for feature, _ in _made(lay, leg, made):
            for end, line in lines.items():
                value = _to_line(feature, line, end)
                if value < limit - SLACK_MM:
                    yield Reason(
                        rule="hole-near-shear",
                        message=f"the edge of {named(feature)} is {length_words(lay.part, value)}"
                        f" from the {end} end, less than the {length_words(lay.part, limit)} that"
                        " the shear needs",
                        element=feature_path(leg, feature.id),
                        value=value,
                        limit=limit,
                    )


_ENDS: Final[tuple[End, ...]] = ("start", "far")


def _cut_line(lay: Lay, cut: Shear, end: End, leg: LegName) -> EndLine:
    """Return the line that the shear cuts along: square where a mitre is sawn afterwards."""
    if cut.angles is None:
        return EndLine(heel_x=0.0 if end == "start" else lay.part.length_mm, slope=0.0)
    return end_line(lay.part, end, leg)


def _made(lay: Lay, leg: LegName, made: Mapping[tuple[LegName, str], Made]) -> Iterator[Punched]:
    """Yield the holes and slots of a leg that a station makes, with the station."""
    for feature in leg_of(lay.part, leg).features:
        candidate = made[leg, feature.id].candidate
        if candidate is not None and isinstance(feature, Hole | Slot):
            yield feature, candidate.station


def _web(station: Station) -> float:
    clear = station.clearances
    return max(clear.die_to_hole_mm or 0.0, clear.stripper_to_hole_mm or 0.0)


def _thin(lay: Lay, leg: LegName, punched: Sequence[Punched]) -> Iterator[Reason]:
    widest = max((_web(station) for _, station in punched), default=0.0)
    pairs = islice(_pairs(punched, widest), MOST_PAIRS + 1)
    for number, (i, j) in enumerate(pairs):
        if number == MOST_PAIRS:
            yield Reason(
                rule="web-thin-for-die",
                message=f"more than {MOST_PAIRS} pairs of holes lie close together on"
                f" {leg_words(leg)}; the rest was not compared",
                element=f"legs.{leg}",
                unit="",
            )
            return
        (first, one), (second, two) = punched[i], punched[j]
        limit, station = max((_web(one), one.name), (_web(two), two.name))
        value = clear_distance(first, second)
        if value < limit - SLACK_MM:
            yield Reason(
                rule="web-thin-for-die",
                message=f"{named(second)} leaves {length_words(lay.part, value)} to"
                f" {named(first)}, less than the {length_words(lay.part, limit)} that station"
                f" {station} needs",
                element=feature_path(leg, second.id),
                value=value,
                limit=limit,
            )


def _pairs(punched: Sequence[Punched], within: float) -> Iterator[tuple[int, int]]:
    """Yield pairs whose boxes come near each other along the piece, the lesser number first.

    Pairs that are far apart across the leg come too: what is looked at is what is counted.
    """
    boxes = [extent(feature) for feature, _ in punched]
    order = sorted(range(len(boxes)), key=lambda i: (boxes[i].left, i))
    for place, i in enumerate(order):
        for j in islice(order, place + 1, None):
            if boxes[j].left > boxes[i].right + within:
                break
            yield min(i, j), max(i, j)


def _to_line(feature: Hole | Slot, line: EndLine, end: End) -> float:
    """Return the least distance of a feature's edge to an end's cut, less than 0 beyond it."""
    inward = 1.0 if end == "start" else -1.0
    stretch = math.hypot(1.0, line.slope)
    spots = slot_centres(feature) if isinstance(feature, Slot) else ((feature.x_mm, feature.y_mm),)
    radius = (feature.width_mm if isinstance(feature, Slot) else feature.diameter_mm) / 2.0
    return min((x - line.at(y)) * inward / stretch for x, y in spots) - radius
