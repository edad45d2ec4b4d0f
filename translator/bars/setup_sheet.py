"""The setup sheet of a batch, from what is gathered of it."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from translator.bars.setup_gather import Batch
from translator.bars.setup_model import (
    Setup,
    SetupGauge,
    SetupStamps,
    SetupStation,
    SetupTool,
    StampUse,
    ToolUse,
)
from translator.bars.wording import Units, tool_words
from translator.machines.profile import Machine
from translator.machines.stations import Station
from translator.machines.tools import CentreTool, OblongTool, Tool

ANY_DRILL: Final = "any"
"""Number told for a centre that a drill of any size spots."""


def setup(machine: Machine, batch: Batch) -> Setup:
    """Return the setup sheet of a batch."""
    inches = sum(first.units == "inch" for first in batch.first_pieces)
    units: Units = "inch" if 2 * inches > len(batch.first_pieces) else "mm"
    used = {use.station for use in batch.tools}
    return Setup(
        machine=machine.name,
        units=units,
        stations=tuple(
            _station(station, batch.tools, units)
            for station in machine.stations
            if station.name in used
        ),
        idle=tuple(s.name for s in machine.stations if s.name not in used),
        stamps=_stamp_set(machine, batch.stamps),
        stock=batch.stock,
        first_pieces=batch.first_pieces,
        not_made=batch.not_made,
        remarks=batch.remarks,
    )


def _station(station: Station, uses: Iterable[ToolUse], units: Units) -> SetupStation:
    own = [use for use in uses if use.station == station.name]
    gauges: dict[tuple[float, float], int] = {}
    for use in own:
        key = use.from_heel_mm, use.gauge_mm
        gauges[key] = gauges.get(key, 0) + use.count
    wanted = {use.tool for use in own}
    return SetupStation(
        name=station.name,
        side=station.side,
        process=station.process,
        tools=tuple(_tools(station, own, units)),
        gauges=tuple(
            SetupGauge(from_heel_mm=heel, gauge_mm=shown, uses=count)
            for (heel, shown), count in sorted(gauges.items())
        ),
        not_used=tuple(
            tool.number
            for tool in station.tools
            if tool.place == "loaded" and tool.number not in wanted
        ),
    )


def _tools(station: Station, own: Sequence[ToolUse], units: Units) -> Iterator[SetupTool]:
    for tool in station.tools:
        uses = [use for use in own if use.tool == tool.number]
        if uses:
            yield SetupTool(
                number=tool.number,
                what=tool_size(tool, units),
                place=tool.place,
                change_s=tool.change_time_s,
                uses=sum(use.count for use in uses),
                marks=tuple(dict.fromkeys(use.mark for use in uses)),
            )
    spots = [use for use in own if not use.tool]
    if spots:
        yield SetupTool(
            number=ANY_DRILL,
            what="drill of any size, to spot centres",
            place="loaded",
            change_s=None,
            uses=sum(use.count for use in spots),
            marks=tuple(dict.fromkeys(use.mark for use in spots)),
        )


def tool_size(tool: Tool, units: Units) -> str:
    """Return a tool's shape and size."""
    if isinstance(tool, CentreTool):
        return "centre punch"
    if isinstance(tool, OblongTool):
        size = f"{tool_words(tool.width_mm, units)} x {tool_words(tool.length_mm, units)}"
        way = "turns" if tool.turns else f"at {tool.angle_deg:g} deg"
        return f"oblong {size}, {way}"
    return f"round {tool_words(tool.diameter_mm, units)}"


def _stamp_set(machine: Machine, stamps: Sequence[StampUse]) -> SetupStamps | None:
    if not stamps or machine.marker is None:
        return None
    totals: dict[tuple[str, str, float], int] = {}
    for use in stamps:
        key = use.mark, use.text, use.height_mm
        totals[key] = totals.get(key, 0) + use.count
    letters = "".join(sorted({c for use in stamps for c in use.text if c != " "}))
    held = machine.marker.characters
    return SetupStamps(
        side=machine.marker.side,
        heights_mm=tuple(sorted({use.height_mm for use in stamps})),
        letters=letters,
        missing="" if held is None else "".join(c for c in letters if c not in held),
        stamps=tuple(
            StampUse(mark=mark, text=text, height_mm=height, count=count)
            for (mark, text, height), count in totals.items()
        ),
    )
