"""Lay the dimensions of one leg around its drawing: each group outside of what is there.

Places along the piece stand on the toe's side, the overall length on the heel's, places
across the leg before the start end, and its width beyond the far end.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf import _view as view
from translator.emitters.dxf._dimensions import (
    GAP,
    PITCH,
    ROW,
    STROKE,
    Distance,
    Mark,
    Side,
    Words,
    distance_across,
    distance_along,
    ordinates_across,
    ordinates_along,
)
from translator.emitters.dxf._entities import Box, Dimension, Spot, Text, around, both
from translator.emitters.dxf._placing import rows, widest_gap
from translator.emitters.dxf._stations import Plan, Run, Station, plan
from translator.emitters.dxf._text import dimension, is_exact, rounded, width
from translator.geometry.contours import Contour
from translator.geometry.frames import outside_sign
from translator.lengths.parse import Unit
from translator.model import Angle, LegName, Part, leg_width

_CLEAR: Final = 0.8
"""From what is drawn to the nearest dimension line or letter, in letter heights."""

_SMALLEST: Final = 0.4
"""Crowded letters become smaller, to this share of the usual height at least."""

_ACROSS_ROOM: Final = 3.0
"""Room for ordinates across, in widths of the leg, before letters become smaller."""

_WORD_HEIGHT: Final = 0.5
"""The words at heel and toe are no higher than this share of the leg's width."""

DATUM: Final = Spot(0.0, 0.0)


class Dimensions(NamedTuple):
    """The dimensions of a leg.

    Attributes:
        drawn: the dimensions.
        words: words beside them.
        around: a box around these and the leg.
        left_out: how many places have no dimension.
    """

    drawn: tuple[Dimension, ...]
    words: tuple[Text, ...]
    around: Box
    left_out: int


class _Leg(NamedTuple):
    part: Part
    leg: LegName
    contour: Contour
    letter: float

    @property
    def up(self) -> float:
        return outside_sign(self.leg)

    @property
    def width(self) -> float:
        return leg_width(self.part.section, self.leg)


def draw(part: Part, leg: LegName, contour: Contour, above: Box, letter: float) -> Dimensions:
    """Dimension one leg around what is drawn of it.

    Args:
        part: the part.
        leg: its leg.
        contour: the leg's outline.
        above: box around all that is drawn.
        letter: usual letter height, mm.
    """
    wanted, runs = _fitting(part, leg, contour, letter)
    h = _letter(part, leg, wanted, letter)
    own = _Leg(part, leg, contour, h)
    drawn = [*_along(own, wanted, runs, above), _overall(own, above)]
    box = both(above, around(drawn))
    at_ends = ordinates_across(
        _across(own, wanted.start, above.left), DATUM, Side(box.left, -1.0, _CLEAR * h, h)
    )
    at_ends += ordinates_across(
        _across(own, wanted.far, None), DATUM, Side(box.right, 1.0, _CLEAR * h, h)
    )
    box = both(box, around(at_ends))
    # Extension lines would run through the ordinates at the far end.
    over = _width(own, box.right, box.right if wanted.far else above.left)
    box = both(box, around([over]))
    words = _words(own, box.right) if isinstance(part.section, Angle) else ()
    box = both(box, around(words)) if words else box
    return Dimensions((*drawn, *at_ends, over), words, box, wanted.left_out)


def spelled(mm: float, units: Unit) -> Words:
    """Return the text of a dimension of something that was designed."""
    return Words(dimension(mm, units), is_plain=units == "mm")


def station_words(station: Station, units: Unit) -> Words:
    """Return the text of an ordinate.

    A corner that follows from an angle has no round figure; it is an auxiliary dimension, to
    the nearest 1/16 in. or 0.1 mm and in brackets.
    """
    mm = station.value
    if station.reach == 0.0 and not is_exact(mm, units):
        return Words(f"({dimension(rounded(mm, units), units)})")
    return spelled(mm, units)


def run_words(run: Run, units: Unit) -> str:
    """Say equal spaces as a drafter does: ``3 @ 75 = 225``."""
    over = run.last - run.first
    return f"{run.spaces} @ {dimension(over / run.spaces, units)} = {dimension(over, units)}"


def _fitting(
    part: Part, leg: LegName, contour: Contour, letter: float
) -> tuple[Plan, tuple[Run, ...]]:
    """Choose what is dimensioned so that every run told as such has room for its words."""
    wanted = plan(part, leg, contour)
    while True:
        places = [station.x for station in wanted.along]
        kept = []
        for run in wanted.runs:
            low, high = widest_gap(run.first, run.last, places)
            if high - low >= _room(run, part.units) * letter:
                kept.append(run)
        if len(kept) == len(wanted.runs):
            return wanted, wanted.runs
        wanted = plan(part, leg, contour, kept)


def _room(run: Run, units: Unit) -> float:
    return width(run_words(run, units)) + 2.0 * (STROKE + GAP)


def _letter(part: Part, leg: LegName, wanted: Plan, usual: float) -> float:
    """Return the letter height at which crowded ordinates do not run far beyond the piece."""
    along = part.length_mm / (PITCH * len(wanted.along))
    across = _ACROSS_ROOM * leg_width(part.section, leg) / (PITCH * len(wanted.start))
    return max(_SMALLEST * usual, min(usual, along, across))


def _along(own: _Leg, wanted: Plan, runs: Sequence[Run], above: Box) -> list[Dimension]:
    up, h = own.up, own.letter
    edge = above.top if up > 0.0 else above.bottom
    chosen = rows([(run.first, run.last) for run in runs])
    leaders = [station.x for station in wanted.along]
    drawn = []
    for run, row in zip(runs, chosen, strict=True):
        # Letters stand above their line, so below the leg the line lies one row further out.
        line = edge + up * h * (_CLEAR + ROW * row + (0.0 if up > 0.0 else ROW - GAP))
        low, high = widest_gap(run.first, run.last, leaders)
        y = max(run.gauges)
        over = Distance(
            run.last - run.first,
            Words(run_words(run, own.part.units)),
            view.spot(own.leg, run.first, y),
            view.spot(own.leg, run.last, y),
        )
        drawn.append(distance_along(over, line, h, middle=(low + high) / 2.0))
    clear = (_CLEAR + ROW * len(set(chosen)) + (0.0 if up > 0.0 else GAP)) * h
    marks = [_mark_along(own, station) for station in wanted.along]
    side = Side(edge, up, clear, h)
    return [*drawn, *ordinates_along(marks, DATUM, side)]


def _mark_along(own: _Leg, station: Station) -> Mark:
    at = view.spot(own.leg, station.x, station.y)
    words = station_words(station, own.part.units)
    return Mark(station.value, words, at, at.v + own.up * (station.reach or GAP * own.letter))


def _across(own: _Leg, stations: Sequence[Station], gauge_end: float | None) -> list[Mark]:
    """Return marks from bottom to top; a gauge's own line already runs to ``gauge_end``."""
    marks = []
    way = 1.0 if gauge_end is None else -1.0
    for station in stations:
        at = view.spot(own.leg, station.x, station.y)
        is_gauge = station.reach > 0.0 and gauge_end is not None
        begin = gauge_end if is_gauge else at.u + way * GAP * own.letter
        words = station_words(station, own.part.units)
        marks.append(Mark(station.value, words, at, begin if begin is not None else at.u))
    return marks if own.up > 0.0 else marks[::-1]


def _overall(own: _Leg, above: Box) -> Dimension:
    up, h, length = own.up, own.letter, own.part.length_mm
    spots = [
        view.spot(own.leg, x, min((v.y_mm for v in own.contour if v.x_mm == x), default=0.0))
        for x in (0.0, length)
    ]
    edge = above.bottom if up > 0.0 else above.top
    line = edge - ROW * h if up > 0.0 else edge + _CLEAR * h
    over = Distance(length, spelled(length, own.part.units), *spots)
    return distance_along(over, line, h, lines_from=(spots[0].v, spots[1].v))


def _width(own: _Leg, right: float, lines_from: float) -> Dimension:
    ys = (0.0, own.width)
    spots = [
        view.spot(
            own.leg,
            max((v.x_mm for v in own.contour if v.y_mm == y), default=own.part.length_mm),
            y,
        )
        for y in ys
    ]
    spots.sort(key=lambda spot: spot.v)
    over = Distance(own.width, spelled(own.width, own.part.units), *spots)
    return distance_across(over, right + ROW * own.letter, own.letter, lines_from)


def _words(own: _Leg, right: float) -> tuple[Text, ...]:
    """Say which edge is the heel and which the toe."""
    h = min(own.letter, own.width * _WORD_HEIGHT)
    found = []
    for word, y in (("HEEL", 0.0), ("TOE", own.width)):
        _, v = view.spot(own.leg, 0.0, y)
        found.append(Text(layers.NOTE, word, Spot(right + GAP * own.letter, v - h / 2.0), h))
    return tuple(found)
