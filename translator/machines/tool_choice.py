"""Which tool of which station makes a hole or slot, before any limit is held against it."""

import math
from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from translator.machines.lay import Lay, LegLay
from translator.machines.ranges import is_size
from translator.machines.reasons import (
    SLACK_DEG,
    Reason,
    decimal,
    length_words,
    named,
)
from translator.machines.stations import Station
from translator.machines.tools import CentreTool, OblongTool, RoundTool
from translator.model import Hole, Slot, feature_path, slot_direction

LEAST_REAMED_MM: Final = 2.0
"""A hole to be reamed is punched at least this much small: EN 1090-2:2008+A1 6.6.3 (from memory).

The least that any code known here asks for: UFGS-05055A 2.2.3 wants 1/8 in. Which code rules a
part is not this room's question.
"""

MOST_REAMED_MM: Final = 6.4
"""And no more than this: 3/16 in. less than the bolt, as a bridge specification has it."""

CutTool = RoundTool | OblongTool


class Candidate(Struct, frozen=True, kw_only=True):
    """A tool that would make a hole or slot.

    Attributes:
        station: where the tool stands.
        tool: the tool.
        ys: y of the tool's centre on the leg, in its first and its last hit, millimetres.
        hits: how often it must hit.
        is_reamed: whether the hole is reamed to size afterwards.
    """

    station: Station
    tool: CutTool
    ys: tuple[float, ...]
    hits: int
    is_reamed: bool


def candidates(lay: Lay, leg: LegLay, feature: Hole | Slot) -> Iterator[Candidate]:
    """Yield all tools of the right size and direction on a leg's side, in the profile's order."""
    for station in suitable(lay, leg, feature):
        for tool in station.tools:
            if isinstance(tool, CentreTool):
                continue
            found = _candidate(lay, leg, feature, station, tool)
            if found is not None:
                yield found


def suitable(lay: Lay, leg: LegLay, feature: Hole | Slot) -> tuple[Station, ...]:
    """Return the stations on a leg's side that work the way the hole wants."""
    return tuple(s for s in at_side(lay, leg) if _is_allowed(feature, s))


def at_side(lay: Lay, leg: LegLay) -> tuple[Station, ...]:
    """Return all stations that reach a leg's side."""
    return tuple(s for s in lay.machine.stations if s.side in (leg.side, "both"))


def without_station(lay: Lay, leg: LegLay, feature: Hole | Slot) -> Reason:
    """Say why no station on a leg's side makes a hole or slot."""
    where = f"leg {leg.leg} lies {leg.side}" if leg.leg != "face" else f"the face lies {leg.side}"
    there = {station.process for station in at_side(lay, leg)}
    if not there:
        message = f"{named(feature)} can't be made: {where}, where the machine makes no holes"
    else:
        only = "only punched" if there == {"punch"} else "only drilled"
        if feature.depth_mm is not None and "drill" in there:
            only = "not drilled from outside"
        message = f"{_wish(lay, feature)}, but {where}, where holes are {only}"
    return Reason(
        rule="leg-process-mismatch",
        message=message,
        element=feature_path(leg.leg, feature.id),
        unit="",
    )


def without_tool(lay: Lay, leg: LegLay, feature: Hole | Slot) -> Reason:
    """Say that no tool on a leg's side has the size, and which comes nearest."""
    stations = suitable(lay, leg, feature)
    if isinstance(feature, Slot):
        return _without_slot_tool(lay, leg, feature, stations)
    tools = [t for s in stations for t in s.tools if isinstance(t, RoundTool)]
    wanted = feature.diameter_mm
    nearest = min(tools, key=lambda t: abs(t.diameter_mm - wanted), default=None)
    is_drilled = all(station.process == "drill" for station in stations)
    thing = "drill" if is_drilled else "tool"
    message = f"{named(feature)} is {length_words(lay.part, wanted)}, "
    if feature.process == "sub-punch-and-ream" and not is_drilled:
        message += "to be punched small and reamed, "
    if nearest is None:
        message += f"no {thing} is held on the {leg.side} side"
    else:
        size = length_words(lay.part, nearest.diameter_mm)
        message += f"the nearest {thing} on the {leg.side} side is {size} ({nearest.number})"
    return Reason(
        rule="drill-size-not-held" if is_drilled else "hole-without-tool",
        message=message,
        element=feature_path(leg.leg, feature.id),
        value=wanted,
        limit=nearest.diameter_mm if nearest is not None else None,
    )


def _without_slot_tool(lay: Lay, leg: LegLay, slot: Slot, stations: tuple[Station, ...]) -> Reason:
    width, length = (length_words(lay.part, mm) for mm in (slot.width_mm, slot.length_mm))
    size = f"{width} x {length}" if lay.part.units == "inch" else f"{width[:-3]} x {length}"
    angle = leg.direction(slot.angle_deg)
    message = f"{named(slot)} is {size}, no tool on the {leg.side} side makes it"
    tolerance = lay.machine.hole_size_tolerance_mm
    turned = [
        t
        for s in stations
        for t in s.tools
        if isinstance(t, OblongTool) and _has_slot_size(t, slot, tolerance, is_reamed=False)
    ]
    if turned:
        tool = turned[0]
        message = (
            f"{named(slot)} lies at {decimal(angle, 3)} deg to the way the bar travels, tool"
            f" {tool.number} of its size at {decimal(tool.angle_deg, 3)} deg"
        )
    return Reason(
        rule="slot-without-tool",
        message=message,
        element=feature_path(leg.leg, slot.id),
        value=angle if turned else None,
        limit=turned[0].angle_deg if turned else None,
        unit="deg" if turned else "",
    )


def _is_allowed(feature: Hole | Slot, station: Station) -> bool:
    """Tell whether a station works the way a hole wants.

    Wherever a hole may be sub-punched and reamed it may be drilled: UFGS-05055A 2.2.3. A hole
    that does not go through is drilled from outside, where its depth is counted from.
    """
    if feature.depth_mm is not None and (station.process, station.enters) != ("drill", "outside"):
        return False
    return feature.process not in ("drill", "punch") or feature.process == station.process


def _wish(lay: Lay, feature: Hole | Slot) -> str:
    if feature.depth_mm is not None:
        return f"{named(feature)} is {length_words(lay.part, feature.depth_mm)} deep, not through"
    return f"{named(feature)} is to be {'drilled' if feature.process == 'drill' else 'punched'}"


def _candidate(
    lay: Lay, leg: LegLay, feature: Hole | Slot, station: Station, tool: CutTool
) -> Candidate | None:
    tolerance = lay.machine.hole_size_tolerance_mm
    is_reamed = feature.process == "sub-punch-and-ream" and station.process == "punch"
    ys: tuple[float, ...] = (feature.y_mm,)
    hits = 1
    if isinstance(feature, Hole):
        if not isinstance(tool, RoundTool) or not _is_size(
            tool.diameter_mm, feature.diameter_mm, tolerance, is_reamed=is_reamed
        ):
            return None
    elif isinstance(tool, OblongTool):
        if not _has_slot_size(tool, feature, tolerance, is_reamed=is_reamed):
            return None
        if not tool.turns and not _is_direction(tool.angle_deg, leg.direction(feature.angle_deg)):
            return None
    else:
        if not tool.several_hits or not is_size(tool.diameter_mm, feature.width_mm, tolerance):
            return None
        ys, hits = _slot_hits(feature, station)
        is_reamed = False
    return Candidate(station=station, tool=tool, ys=ys, hits=hits, is_reamed=is_reamed)


def _slot_hits(slot: Slot, station: Station) -> tuple[tuple[float, ...], int]:
    """Return where a round tool begins and ends a slot, and its hits: each takes half its width.

    A milling cutter in a drill goes through once and moves along.
    """
    along = slot.length_mm - slot.width_mm
    rise = along / 2.0 * math.sin(math.radians(slot.angle_deg))
    hits = 1 if station.process == "drill" else 1 + math.ceil(along / (slot.width_mm / 2.0))
    return (slot.y_mm - rise, slot.y_mm + rise), hits


def _has_slot_size(tool: OblongTool, slot: Slot, tolerance: float, *, is_reamed: bool) -> bool:
    return _is_size(tool.width_mm, slot.width_mm, tolerance, is_reamed=is_reamed) and _is_size(
        tool.length_mm, slot.length_mm, tolerance, is_reamed=is_reamed
    )


def _is_size(size: float, wanted: float, tolerance: float, *, is_reamed: bool) -> bool:
    if is_reamed:
        return LEAST_REAMED_MM <= wanted - size <= MOST_REAMED_MM
    return is_size(size, wanted, tolerance)


def _is_direction(angle: float, wanted: float) -> bool:
    return abs(slot_direction(angle - wanted)) <= SLACK_DEG
