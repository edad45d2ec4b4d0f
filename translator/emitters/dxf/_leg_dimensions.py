"""Lay the dimensions of one leg around its drawing: each group outside of what is there.

Places along the piece stand on the toe's side, the overall length on the heel's, places
across the leg before the start end, and its width beyond the far end. The pieces serve a
sheet on paper too, where a leg is drawn to scale and with parts left out.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
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
from translator.emitters.dxf._entities import Box, Dimension, Spot, Text, around, new
from translator.emitters.dxf._placing import rows, widest_gap
from translator.emitters.dxf._stations import Plan, Run, Station, plan
from translator.emitters.dxf._text import dimension, is_exact, rounded, width
from translator.geometry.contours import Contour
from translator.geometry.frames import outside_sign
from translator.lengths.parse import Unit
from translator.model import Angle, LegName, Part, leg_width

CLEAR: Final = 0.8
"""From what is drawn to the nearest dimension line or letter, in letter heights."""

_SMALLEST: Final = 0.4
"""Crowded letters become smaller, to this share of the usual height at least."""

_ACROSS_ROOM: Final = 3.0
"""Room for ordinates across, in widths of the leg, before letters become smaller."""

_WORD_HEIGHT: Final = 0.5
"""The words at heel and toe are no higher than this share of the leg's width."""

DATUM: Final = Spot(0.0, 0.0)
"""The start end at the heel, that ordinates are measured from."""


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


def _as_it_is(spot: Spot) -> Spot:
    return spot


class Leg(NamedTuple):
    """A leg as it is drawn.

    Attributes:
        part: the part.
        leg: the leg.
        contour: its outline.
        letter: letter height of its dimensions, in the drawing's mm.
        place: where the drawing has a point of the outside view.
        scale: mm of the drawing for one of the piece, 1 for a leg drawing.
    """

    part: Part
    leg: LegName
    contour: Contour
    letter: float
    place: Callable[[Spot], Spot] = _as_it_is
    scale: float = 1.0

    @property
    def up(self) -> float:
        """1.0 where the toe is above the heel, -1.0 where it is below."""
        return outside_sign(self.leg)

    @property
    def width(self) -> float:
        """Width of the leg in mm of the piece."""
        return leg_width(self.part.section, self.leg)

    def spot(self, x: float, y: float) -> Spot:
        """Return where a place of the leg is drawn."""
        at = view.spot(self.leg, x, y)
        return at if self.place is _as_it_is else self.place(at)


def draw(part: Part, leg: LegName, contour: Contour, above: Box, letter: float) -> Dimensions:
    """Dimension one leg around what is drawn of it.

    Args:
        part: the part.
        leg: its leg.
        contour: the leg's outline.
        above: box around all that is drawn.
        letter: usual letter height, mm.
    """
    wanted = fitting(Leg(part, leg, contour, letter))
    h = _letter(part, leg, wanted, letter)
    own = Leg(part, leg, contour, h)
    drawn = [*along(own, wanted, above), overall(own, above)]
    box = around(drawn, above)
    before, beyond = Side(box.left, -1.0, CLEAR * h, h), Side(box.right, 1.0, CLEAR * h, h)
    at_ends = ordinates_across(across(own, wanted.start, above.left), DATUM, before)
    at_ends += ordinates_across(across(own, wanted.far, None), DATUM, beyond)
    box = around(at_ends, box)
    # Extension lines would run through the ordinates at the far end.
    over = whole_width(own, box.right, box.right if wanted.far else above.left)
    box = around((over,), box)
    words = edge_words(own, box.right) if isinstance(part.section, Angle) else ()
    box = around(words, box)
    return Dimensions((*drawn, *at_ends, over), words, box, wanted.left_out)


@lru_cache(maxsize=4096)
def spelled(mm: float, units: Unit) -> Words:
    """Return the text of a dimension of something that was designed."""
    return Words(dimension(mm, units), is_plain=units == "mm")


def station_words(station: Station, units: Unit) -> Words:
    """Return the text of an ordinate.

    A corner that follows from an angle has no round figure; it is an auxiliary dimension, to
    the nearest 1/16 in. or 0.1 mm and in brackets.
    """
    mm = station.value
    return spelled(mm, units) if station.reach else _corner_words(mm, units)


@lru_cache(maxsize=4096)
def _corner_words(mm: float, units: Unit) -> Words:
    if is_exact(mm, units):
        return spelled(mm, units)
    return Words(f"({dimension(rounded(mm, units), units)})")


def run_words(run: Run, units: Unit) -> str:
    """Say equal spaces as a drafter does: ``3 @ 75 = 225``."""
    over = run.last - run.first
    return f"{run.spaces} @ {dimension(over / run.spaces, units)} = {dimension(over, units)}"


def fitting(own: Leg) -> Plan:
    """Choose what is dimensioned so that every run told as such has room for its words."""
    wanted = plan(own.part, own.leg, own.contour)
    while wanted.runs:
        leaders = _leaders(own, wanted)
        kept = []
        for run in wanted.runs:
            low, high = widest_gap(*_ends(own, run), leaders)
            room = width(run_words(run, own.part.units)) + 2.0 * (STROKE + GAP)
            if high - low >= room * own.letter:
                kept.append(run)
        if len(kept) == len(wanted.runs):
            return wanted
        wanted = plan(own.part, own.leg, own.contour, kept)
    return wanted


def along(own: Leg, wanted: Plan, above: Box) -> list[Dimension]:
    """Dimension places along the piece on the toe's side of a box, runs nearest."""
    up, h = own.up, own.letter
    edge = above.top if up > 0.0 else above.bottom
    ends = [_ends(own, run) for run in wanted.runs]
    chosen = rows(ends)
    leaders = _leaders(own, wanted) if ends else []
    drawn = []
    for run, row, (first, last) in zip(wanted.runs, chosen, ends, strict=True):
        # Letters stand above their line, so below the leg the line lies one row further out.
        line = edge + up * h * (CLEAR + ROW * row + (0.0 if up > 0.0 else ROW - GAP))
        low, high = widest_gap(first, last, leaders)
        y = max(run.gauges)
        words = Words(run_words(run, own.part.units))
        over = Distance(run.last - run.first, words, own.spot(run.first, y), own.spot(run.last, y))
        drawn.append(distance_along(over, line, h, middle=(low + high) / 2.0))
    clear = (CLEAR + ROW * len(set(chosen)) + (0.0 if up > 0.0 else GAP)) * h
    drawn += ordinates_along(_marks(own, wanted.along), own.place(DATUM), Side(edge, up, clear, h))
    return drawn


def across(own: Leg, stations: Sequence[Station], gauge_end: float | None) -> list[Mark]:
    """Return marks from bottom to top; a gauge's own line already runs to ``gauge_end``."""
    marks = []
    units = own.part.units
    gap = GAP * own.letter if gauge_end is None else -GAP * own.letter
    for station in stations:
        at = own.spot(station.x, station.y)
        begin = at.u + gap if gauge_end is None or not station.reach else gauge_end
        marks.append(new(Mark, (station.value, station_words(station, units), at, begin)))
    return marks if own.up > 0.0 else marks[::-1]


def overall(own: Leg, above: Box) -> Dimension:
    """Dimension the length of the piece on the heel's side of a box."""
    up, h, length = own.up, own.letter, own.part.length_mm
    spots = _outermost(own)
    edge = above.bottom if up > 0.0 else above.top
    line = edge - ROW * h if up > 0.0 else edge + CLEAR * h
    over = Distance(length, spelled(length, own.part.units), *spots)
    return distance_along(over, line, h, lines_from=(spots[0].v, spots[1].v))


def overall_beyond(own: Leg, above: Box) -> Dimension:
    """Dimension the length of the piece above everything, by the ends of its own line."""
    h, length = own.letter, own.part.length_mm
    over = Distance(length, spelled(length, own.part.units), *_outermost(own))
    line = above.top + ROW * h / 2.0
    return distance_along(over, line, h, lines_from=(above.top, above.top))


def whole_width(own: Leg, right: float, lines_from: float) -> Dimension:
    """Dimension the width of the leg right of a place."""
    spots = [
        own.spot(max((v.x_mm for v in own.contour if v.y_mm == y), default=own.part.length_mm), y)
        for y in (0.0, own.width)
    ]
    spots.sort(key=lambda spot: spot.v)
    over = Distance(own.width, spelled(own.width, own.part.units), *spots)
    return distance_across(over, right + ROW * own.letter, own.letter, lines_from)


def edge_words(own: Leg, right: float) -> tuple[Text, ...]:
    """Say which edge is the heel and which the toe."""
    h = min(own.letter, own.width * own.scale * _WORD_HEIGHT)
    found = []
    for word, y in (("HEEL", 0.0), ("TOE", own.width)):
        _, v = own.spot(0.0, y)
        found.append(Text(layers.NOTE, word, Spot(right + GAP * own.letter, v - h / 2.0), h))
    return tuple(found)


def _letter(part: Part, leg: LegName, wanted: Plan, usual: float) -> float:
    """Return the letter height at which crowded ordinates do not run far beyond the piece."""
    lengthwise = part.length_mm / (PITCH * len(wanted.along))
    crosswise = _ACROSS_ROOM * leg_width(part.section, leg) / (PITCH * len(wanted.start))
    return max(_SMALLEST * usual, min(usual, lengthwise, crosswise))


def _leaders(own: Leg, wanted: Plan) -> list[float]:
    return [own.spot(station.x, station.y).u for station in wanted.along]


def _ends(own: Leg, run: Run) -> tuple[float, float]:
    return own.spot(run.first, 0.0).u, own.spot(run.last, 0.0).u


def _marks(own: Leg, stations: Sequence[Station]) -> list[Mark]:
    up, units, scale, gap = own.up, own.part.units, own.scale, GAP * own.letter
    marks = []
    for station in stations:
        at = own.spot(station.x, station.y)
        begin = at.v + up * (station.reach * scale or gap)
        marks.append(new(Mark, (station.value, station_words(station, units), at, begin)))
    return marks


def _outermost(own: Leg) -> tuple[Spot, Spot]:
    """Return the points of both ends that are nearest to the heel."""
    first, last = (
        own.spot(x, min((v.y_mm for v in own.contour if v.x_mm == x), default=0.0))
        for x in (0.0, own.part.length_mm)
    )
    return first, last
