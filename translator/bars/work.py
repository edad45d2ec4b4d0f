"""What one thing takes that a machine does: a hole, a slot, a mark, a stamp, a cut."""

import math
from typing import Final, Literal

from msgspec import Struct

from translator.bars.clock import Operation, Spell
from translator.bars.figures import (
    ALLOWANCE,
    LETTER,
    POINT,
    SPOT,
    STAMP,
    Figure,
    Figures,
    approach,
    cut_figures,
    figure,
    selection,
    spindle,
    stroke,
    used,
)
from translator.bars.times import (
    drill_travel_mm,
    feed_time_s,
    hits_time_s,
    move_time_s,
    oblique_area_mm2,
    saw_time_s,
    stamp_time_s,
)
from translator.machines.cutting_off import Saw, Shear
from translator.machines.handling import Marker
from translator.machines.profile import Machine
from translator.machines.stations import Station
from translator.machines.tools import CentreTool, OblongTool, RoundTool, Tool

MARKER: Final = "marker"
CUT_OFF: Final = "cut-off"


class Task(Struct, frozen=True, kw_only=True):
    """One thing that a station makes, whatever document it stands in.

    Attributes:
        station: name of the station.
        tool: number of the tool, "" for a mark that a drill spots.
        process: punch, drill or mark.
        hits: how often the tool hits.
        gauge_mm: where the middle of the feature stands, from the edge at the heel's place.
        depth_mm: steel that the tool goes through.
        diameter_mm: of the hole, or the width of the slot.
        along_mm: how far the centres of a slot's round ends lie apart along the bar.
        across_mm: and across it.
        comes_down: whether the tool is brought to the steel for it; a further hit of one
            feature finds it there.
    """

    station: str
    tool: str
    process: Literal["punch", "drill", "mark"]
    hits: int
    gauge_mm: float
    depth_mm: float
    diameter_mm: float
    along_mm: float = 0.0
    across_mm: float = 0.0
    comes_down: bool = True


def made(machine: Machine, task: Task, figures: Figures) -> Operation:
    """Return what a station does for a task.

    A slot that is made in several hits moves the bar along and the tool across between them,
    both at once. A cutter mills a slot: it goes in as a drill does and then moves along.
    """
    station = next(s for s in machine.stations if s.name == task.station)
    tool = next((t for t in station.tools if t.number == task.tool), None)
    spread = 0.0
    if task.process == "mark" or tool is None or isinstance(tool, CentreTool):
        spell = _marked(station, tool)
    elif task.process == "punch":
        spell = _punched(station, tool, task, figures)
        spread = task.across_mm / 2.0 if task.hits > 1 else 0.0
    else:
        is_slot = bool(task.along_mm or task.across_mm)
        spell = _drilled(station, tool, task)
        spread = task.across_mm / 2.0 if is_slot else 0.0
    return Operation(
        unit=station.name,
        tool=task.tool,
        selection=selection(station),
        gauge_mm=task.gauge_mm - spread,
        left_at_mm=task.gauge_mm + spread,
        spells=(spell,),
    )


def _marked(station: Station, tool: Tool | None) -> Spell:
    near = approach(station)
    hit = stroke(tool) if isinstance(tool, CentreTool) else figure(None, SPOT)
    seconds = near.value + hit.value
    return Spell(activity="marking", seconds=seconds, assumed=used(near, hit))


def _punched(station: Station, tool: RoundTool | OblongTool, task: Task, figures: Figures) -> Spell:
    near, hit = approach(station), stroke(tool)
    between = 0.0
    moves: tuple[Figure, ...] = ()
    if task.hits > 1:
        steps = task.hits - 1
        feed, gauge = (
            (figures.feed_speed, figures.feed_acceleration),
            (figures.gauge_speed, figures.gauge_acceleration),
        )
        along = move_time_s(task.along_mm / steps, feed[0].value, feed[1].value)
        across = move_time_s(task.across_mm / steps, gauge[0].value, gauge[1].value)
        settle = figures.settle if task.along_mm else None
        between = max(along, across) + (settle.value if settle is not None else 0.0)
        moves = (
            *(feed if task.along_mm else ()),
            *(gauge if task.across_mm else ()),
            *((settle,) if settle is not None else ()),
        )
    seconds = hits_time_s(task.hits, hit.value, between)
    if task.comes_down:
        seconds, moves = seconds + near.value, (near, *moves)
    return Spell(activity="punching", seconds=seconds, assumed=used(hit, *moves))


def _drilled(station: Station, tool: RoundTool | OblongTool, task: Task) -> Spell:
    near = approach(station)
    turns, feed = spindle(tool, task.diameter_mm)
    stated = tool.point_angle_deg if isinstance(tool, RoundTool) else None
    point = figure(stated, POINT)
    allowance = figure(station.feed_allowance_mm, ALLOWANCE)
    travel = drill_travel_mm(task.depth_mm, task.diameter_mm, point.value, allowance.value)
    length = math.hypot(task.along_mm, task.across_mm)
    seconds = near.value + feed_time_s(travel + length, turns.value, feed.value)
    return Spell(
        activity="milling" if length else "drilling",
        seconds=seconds,
        assumed=used(near, turns, feed, point, allowance),
    )


def stamped(marker: Marker, letters: int, from_heel_mm: float) -> Operation:
    """Return what the marker does for so many letters."""
    beside, letter = figure(marker.time_s, STAMP), figure(marker.character_time_s, LETTER)
    seconds = stamp_time_s(letters, beside.value, letter.value)
    spell = Spell(activity="stamping", seconds=seconds, assumed=used(beside, letter))
    return Operation(unit=MARKER, gauge_mm=from_heel_mm, spells=(spell,))


def parted(cut: Shear | Saw, area_mm2: float, left_deg: float, right_deg: float) -> Operation:
    """Return what the shear or saw does for one cut through a section of that area.

    A saw goes through more steel where the cut is swung on either side.
    """
    beside, rate = cut_figures(cut)
    seconds, assumed = beside.value, used(beside)
    if rate is not None:
        area = oblique_area_mm2(area_mm2, left_deg, right_deg)
        seconds, assumed = saw_time_s(area, rate.value, beside.value), used(beside, rate)
    return Operation(
        unit=CUT_OFF, spells=(Spell(activity="cutting", seconds=seconds, assumed=assumed),)
    )
