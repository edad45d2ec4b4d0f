"""Holes, slots and marks: the tool that makes each of them, or why there is none."""

from collections.abc import Iterator, Mapping
from typing import Literal

from msgspec import Struct

from translator.findings import Severity
from translator.machines.hand_work import Task, feature_tasks, hand_reason, reaming_task
from translator.machines.lay import Lay, LegLay
from translator.machines.reasons import Reason, leg_words, length_words, named
from translator.machines.stations import marks_centres
from translator.machines.tool_choice import (
    Candidate,
    at_side,
    candidates,
    suitable,
    without_station,
    without_tool,
)
from translator.machines.tool_limits import limits
from translator.machines.tools import CentreTool, RoundTool
from translator.model import CentreMark, Feature, Hole, LegName, Slot, feature_path, leg_of


class Way(Struct, frozen=True, kw_only=True):
    """How one feature is made.

    Attributes:
        leg: its leg.
        feature: its id.
        station: name of the station.
        tool: number of the tool, "" for a mark that a drill spots.
        process: punch, drill or mark.
        hits: how often the tool hits.
    """

    leg: LegName
    feature: str
    station: str
    tool: str
    process: Literal["punch", "drill", "mark"]
    hits: int = 1


class Made(Struct, frozen=True, kw_only=True):
    """What is made of one feature.

    Attributes:
        way: how, None when the machine does not make it.
        candidate: the tool that cuts it, None when none does.
        reasons: what is to be said.
    """

    way: Way | None = None
    candidate: Candidate | None = None
    reasons: tuple[Reason, ...] = ()


def make_features(lay: Lay) -> Mapping[tuple[LegName, str], Made]:
    """Return what is made of each hole, slot, opening, mark and line, in the part's order."""
    return {
        (leg, feature.id): _make(lay, own, feature)
        for leg, own in lay.legs.items()
        for feature in leg_of(lay.part, leg).features
    }


def _make(lay: Lay, leg: LegLay, feature: Feature) -> Made:
    if isinstance(feature, CentreMark):
        return _mark(lay, leg, feature)
    if isinstance(feature, Hole | Slot) and feature.process == "mark-only":
        return _mark(lay, leg, feature)
    tasks = tuple(hand_reason(lay, task) for task in feature_tasks(leg.leg, feature))
    if not isinstance(feature, Hole | Slot) or (isinstance(feature, Hole) and feature.thread):
        return Made(reasons=tasks)
    made = _cut(lay, leg, feature)
    return Made(way=made.way, candidate=made.candidate, reasons=(*made.reasons, *tasks))


def _cut(lay: Lay, leg: LegLay, feature: Hole | Slot) -> Made:
    said, candidate = _best(lay, leg, feature)
    faults = tuple(reason for reason in said if reason.severity is Severity.ERROR)
    if candidate is None or faults:
        if feature.kind not in lay.machine.second_work:
            return Made(reasons=faults)
        task = Task(
            kind=feature.kind,
            name=named(feature),
            sentence=f"{named(feature)} is made",
            element=feature_path(leg.leg, feature.id),
            why=f"on the machine {faults[0].message}",
        )
        return Made(reasons=(hand_reason(lay, task),))
    way = Way(
        leg=leg.leg,
        feature=feature.id,
        station=candidate.station.name,
        tool=candidate.tool.number,
        process=candidate.station.process,
        hits=candidate.hits,
    )
    if candidate.is_reamed:
        said = (*said, hand_reason(lay, reaming_task(lay, leg.leg, feature)))
    return Made(way=way, candidate=candidate, reasons=said)


def _best(
    lay: Lay, leg: LegLay, feature: Hole | Slot
) -> tuple[tuple[Reason, ...], Candidate | None]:
    """Return the tool that breaks the fewest limits, loaded tools first, and what it breaks."""
    if not suitable(lay, leg, feature):
        return (without_station(lay, leg, feature),), None
    rated = [
        (tuple(limits(lay, leg, feature, candidate)), candidate)
        for candidate in candidates(lay, leg, feature)
    ]
    if not rated:
        return (without_tool(lay, leg, feature),), None
    return min(rated, key=lambda pair: (len(pair[0]), pair[1].tool.place == "crib"))


def _mark(lay: Lay, leg: LegLay, feature: CentreMark | Hole | Slot) -> Made:
    """Return how a centre is marked; where the machine can't, it is a note."""
    for station in at_side(lay, leg):
        y = feature.y_mm
        reaches = station.from_heel.holds(leg.from_heel(y)) and station.from_toe.holds(
            leg.from_toe(y)
        )
        if marks_centres(station) and reaches:
            tool = next((t.number for t in station.tools if isinstance(t, CentreTool)), "")
            way = Way(
                leg=leg.leg, feature=feature.id, station=station.name, tool=tool, process="mark"
            )
            return Made(way=way)
    name = named(feature) if isinstance(feature, CentreMark) else f"centre of {named(feature)}"
    reason = Reason(
        rule="mark-without-tool",
        message=f"the {name} is marked by hand: no station of the {leg.side} side marks it on"
        f" {leg_words(leg.leg)}",
        element=feature_path(leg.leg, feature.id),
        unit="",
        severity=Severity.NOTE,
        hand_work=name,
    )
    return Made(reasons=(reason,))


def crib_reasons(lay: Lay, made: Mapping[tuple[LegName, str], Made]) -> Iterator[Reason]:
    """Yield each tool that must be fetched from the crib, once, at the first hole that needs it."""
    seen = set()
    for (leg, name), one in made.items():
        candidate = one.candidate
        if candidate is None or candidate.tool.place == "loaded":
            continue
        tool, station = candidate.tool, candidate.station
        if (station.name, tool.number) in seen:
            continue
        seen.add((station.name, tool.number))
        time = f", {tool.change_time_s:g} s to change" if tool.change_time_s is not None else ""
        size = tool.diameter_mm if isinstance(tool, RoundTool) else tool.width_mm
        yield Reason(
            rule="tool-in-crib",
            message=f"tool {tool.number} ({length_words(lay.part, size)}) of station {station.name}"
            f" is in the crib{time}",
            element=feature_path(leg, name),
            unit="",
            severity=Severity.NOTE,
        )
