"""Figures of a machine's speed: those of its profile, and what stands in for those it lacks.

A figure that a profile lacks is never taken for nothing: it is assumed, and the assumption
travels with every time that rests on it, so that a report can list what it used.
"""

from collections.abc import Iterable
from typing import Final

from msgspec import Struct

from translator.bars.times import turns_per_min
from translator.machines.cutting_off import Saw, Shear
from translator.machines.profile import Machine
from translator.machines.stations import Station
from translator.machines.tools import CentreTool, OblongTool, RoundTool

PRACTICE: Final = "common practice, no source"
MEMORY: Final = "from memory"


class Assumption(Struct, frozen=True, kw_only=True, order=True):
    """A figure that the profile does not have and that was taken all the same.

    Attributes:
        what: what it is of, in a few words.
        value: the figure.
        unit: its unit.
        source: where it comes from.
        field: field of the machine profile that would replace it.
    """

    what: str
    value: float
    unit: str
    source: str
    field: str


class Figure(Struct, frozen=True, kw_only=True):
    """A figure, and the assumption that it is when the profile lacks it."""

    value: float
    assumed: Assumption | None = None


def used(*figures: Figure) -> tuple[Assumption, ...]:
    """Return the assumptions among some figures."""
    return tuple(f.assumed for f in figures if f.assumed is not None)


def _assume(what: str, value: float, unit: str, field: str, source: str = PRACTICE) -> Assumption:
    return Assumption(what=what, value=value, unit=unit, source=source, field=field)


FEED_SPEED: Final = _assume("speed of the bar", 300.0, "mm/s", "times.feed_speed_mm_per_s")
FEED_ACCELERATION: Final = _assume(
    "acceleration of the bar", 500.0, "mm/s2", "times.feed_acceleration_mm_per_s2"
)
GAUGE_SPEED: Final = _assume(
    "speed of a tool across a leg", 100.0, "mm/s", "times.gauge_speed_mm_per_s"
)
GAUGE_ACCELERATION: Final = _assume(
    "acceleration of a tool across a leg", 500.0, "mm/s2", "times.gauge_acceleration_mm_per_s2"
)
SETTLE: Final = _assume("time to come to rest and clamp", 0.5, "s", "times.settle_time_s")
REGRIP: Final = _assume("time to regrip", 10.0, "s", "times.regrip_time_s")
LOAD: Final = _assume("time to load a bar", 60.0, "s", "times.load_time_s")
UNLOAD: Final = _assume("time to clear a bar's pieces", 45.0, "s", "times.unload_time_s")
ATTENDED: Final = _assume(
    "share of a bar's machine time that a person stands by", 100.0, "%", "times.attended_time_s"
)
MARK_SETUP: Final = _assume("time to set a mark", 60.0, "s", "times.mark_setup_time_s")
FIRST_PIECE: Final = _assume(
    "time to measure the first piece of a mark", 300.0, "s", "times.first_piece_time_s"
)
SECTION_CHANGE: Final = _assume(
    "time to change to another section", 300.0, "s", "times.section_change_time_s"
)
TOGETHER: Final = _assume(
    "stations that work at the same time at one stop", 1.0, "yes", "times.stations_at_once"
)
PUNCH_APPROACH: Final = _assume("punch to the steel and back", 0.5, "s", "approach_time_s")
DRILL_APPROACH: Final = _assume("drill to the steel and back", 1.5, "s", "approach_time_s")
PUNCH_SELECT: Final = _assume("selecting another loaded punch", 1.0, "s", "tool_select_time_s")
DRILL_SELECT: Final = _assume("selecting another loaded drill", 8.0, "s", "tool_select_time_s")
STROKE: Final = _assume("one hit of a punch", 1.0, "s", "stroke_time_s")
CENTRE_STROKE: Final = _assume("one hit of a centre punch", 0.8, "s", "stroke_time_s")
SPOT: Final = _assume("spotting a centre with a drill", 1.0, "s", "stroke_time_s")
CUTTING_SPEED: Final = _assume(
    "cutting speed of a drill in mild steel", 28.0, "m/min", "cutting_speed_m_per_min", MEMORY
)
FEED: Final = _assume("feed of a drill", 0.15, "mm/rev", "feed_mm_per_rev", MEMORY)
POINT: Final = _assume("point angle of a drill", 118.0, "deg", "point_angle_deg", MEMORY)
ALLOWANCE: Final = _assume(
    "travel of a drill at its feed above and below the steel", 4.0, "mm", "feed_allowance_mm"
)
CRIB: Final = _assume("fetching and setting a tool from the crib", 180.0, "s", "change_time_s")
SHEAR_CUT: Final = _assume("one cut of a shear", 3.0, "s", "cut_off.cut_time_s")
SAW_BESIDE: Final = _assume("saw to the steel and back, clamping", 6.0, "s", "cut_off.cut_time_s")
SAW_FEED: Final = _assume("rate of a saw", 60.0, "mm2/s", "cut_off.feed_mm2_per_s")
STAMP: Final = _assume("a stamp besides its letters", 2.0, "s", "marker.time_s")
LETTER: Final = _assume("one letter of a stamp", 0.5, "s", "marker.character_time_s")


def figure(stated: float | None, assumption: Assumption) -> Figure:
    """Return the profile's figure, else the assumption."""
    if stated is not None:
        return Figure(value=stated)
    return Figure(value=assumption.value, assumed=assumption)


class Figures(Struct, frozen=True, kw_only=True):
    """Speeds and times of a machine as a whole.

    Attributes:
        feed_speed: of the bar, mm/s.
        feed_acceleration: of the bar, mm/s2.
        gauge_speed: of a tool across a leg, mm/s.
        gauge_acceleration: of a tool across a leg, mm/s2.
        settle: coming to rest at a stop, s.
        regrip: letting go and taking the bar again, s.
        load: a bar, s.
        unload: a bar, s.
        attended: a bar, s; None where a person stands by all the time.
        mark_setup: a mark, s.
        first_piece: a mark, s.
        section_change: a section, s.
        together: 1 where stations work at the same time at one stop, else 0.
    """

    feed_speed: Figure
    feed_acceleration: Figure
    gauge_speed: Figure
    gauge_acceleration: Figure
    settle: Figure
    regrip: Figure
    load: Figure
    unload: Figure
    attended: Figure | None
    mark_setup: Figure
    first_piece: Figure
    section_change: Figure
    together: Figure


def figures(machine: Machine) -> Figures:
    """Return the speeds and times of a machine, assumed where its profile lacks them."""
    t = machine.times
    at_once = None if t.stations_at_once is None else float(t.stations_at_once)
    return Figures(
        feed_speed=figure(t.feed_speed_mm_per_s, FEED_SPEED),
        feed_acceleration=figure(t.feed_acceleration_mm_per_s2, FEED_ACCELERATION),
        gauge_speed=figure(t.gauge_speed_mm_per_s, GAUGE_SPEED),
        gauge_acceleration=figure(t.gauge_acceleration_mm_per_s2, GAUGE_ACCELERATION),
        settle=figure(t.settle_time_s, SETTLE),
        regrip=figure(t.regrip_time_s, REGRIP),
        load=figure(t.load_time_s, LOAD),
        unload=figure(t.unload_time_s, UNLOAD),
        attended=None if t.attended_time_s is None else Figure(value=t.attended_time_s),
        mark_setup=figure(t.mark_setup_time_s, MARK_SETUP),
        first_piece=figure(t.first_piece_time_s, FIRST_PIECE),
        section_change=figure(t.section_change_time_s, SECTION_CHANGE),
        together=figure(at_once, TOGETHER),
    )


def approach(station: Station) -> Figure:
    """Return the time to bring a station's tool to the steel and back, seconds."""
    usual = PUNCH_APPROACH if station.process == "punch" else DRILL_APPROACH
    return figure(station.approach_time_s, usual)


def selection(station: Station) -> Figure:
    """Return the time to bring another loaded tool of a station into place, seconds."""
    usual = PUNCH_SELECT if station.process == "punch" else DRILL_SELECT
    return figure(station.tool_select_time_s, usual)


def stroke(tool: RoundTool | OblongTool | CentreTool) -> Figure:
    """Return the time of one hit, seconds."""
    usual = CENTRE_STROKE if isinstance(tool, CentreTool) else STROKE
    return figure(tool.stroke_time_s, usual)


def spindle(tool: RoundTool | OblongTool, diameter_mm: float) -> tuple[Figure, Figure]:
    """Return the turns of a drill in a minute, and its feed in each turn, millimetres."""
    feed = figure(tool.feed_mm_per_rev, FEED)
    if tool.turns_per_min is not None:
        return Figure(value=tool.turns_per_min), feed
    speed = figure(tool.cutting_speed_m_per_min, CUTTING_SPEED)
    return Figure(value=turns_per_min(speed.value, diameter_mm), assumed=speed.assumed), feed


def cut_figures(cut: Shear | Saw) -> tuple[Figure, Figure | None]:
    """Return the time of a cut besides sawing, seconds, and the rate of a saw, mm2/s."""
    if isinstance(cut, Shear):
        return figure(cut.cut_time_s, SHEAR_CUT), None
    return figure(cut.cut_time_s, SAW_BESIDE), figure(cut.feed_mm2_per_s, SAW_FEED)


def in_order(assumptions: Iterable[Assumption]) -> tuple[Assumption, ...]:
    """Return assumptions each once, by what they are of."""
    return tuple(sorted(dict.fromkeys(assumptions)))
