"""The hits that make one feature: where each one goes in, and with what size of tool."""

import math
from collections.abc import Iterator
from typing import Any, Final

from translator.bars.program_lying import Lying, from_heel, gauge
from translator.bars.program_model import Operation
from translator.machines.making import Way
from translator.machines.tools import CentreTool, OblongTool, RoundTool
from translator.model import CentreMark, Hole, LegName, Slot, on_grid

_MARKED: Final = "mark"


def hits_of(
    lying: Lying,
    way: Way,
    feature: Hole | Slot | CentreMark,
    tool: RoundTool | OblongTool | CentreTool | None,
) -> Iterator[dict[str, Any]]:
    """Yield the fields of each hit: one, but for a slot that a round tool makes."""
    if way.process == _MARKED or tool is None or isinstance(tool, CentreTool | None):
        place = _place(lying, way.leg, feature.x_mm, feature.y_mm)
        yield {"process": _MARKED, "shape": "centre", **place}
        return
    size = _size(lying, way.leg, feature, tool)
    if not isinstance(feature, Slot) or isinstance(tool, OblongTool):
        yield size | _place(lying, way.leg, feature.x_mm, feature.y_mm)
        return
    spots = _spots(feature, way.hits if way.process == "punch" else 2)
    spots.sort(key=lambda spot: lying.bar_mm(spot[0]))
    if way.process == "drill":
        first, last = (_place(lying, way.leg, x, y) for x, y in spots)
        to = {f"to_{name}": last[name] for name in ("bar_mm", "from_heel_mm", "gauge_mm")}
        yield {**size, **first, **to, "process": "mill"}
        return
    for number, (x, y) in enumerate(spots, start=1):
        yield {**size, **_place(lying, way.leg, x, y), "hit": number, "hits": len(spots)}


def _spots(slot: Slot, count: int) -> list[tuple[float, float]]:
    """Return the middles of a round tool along a slot, evenly from end to end."""
    angle, along = math.radians(slot.angle_deg), slot.length_mm - slot.width_mm
    steps = [along * (number / (count - 1) - 0.5) for number in range(count)]
    return [
        (on_grid(slot.x_mm + s * math.cos(angle)), on_grid(slot.y_mm + s * math.sin(angle)))
        for s in steps
    ]


def _place(lying: Lying, leg: LegName, x: float, y: float) -> dict[str, Any]:
    own = lying.leg(leg)
    return {
        "bar_mm": lying.bar_mm(x),
        "from_heel_mm": from_heel(own, y),
        "gauge_mm": gauge(lying.machine, own, y),
        "x_mm": x,
        "y_mm": y,
    }


def _size(
    lying: Lying, leg: LegName, feature: Hole | Slot | CentreMark, tool: RoundTool | OblongTool
) -> dict[str, Any]:
    out: dict[str, Any] = {"shape": tool.shape}
    if isinstance(feature, Hole | Slot):
        out["depth_mm"] = feature.depth_mm
        out["reamed_to_mm"] = _reamed_to(lying, feature, tool)
    if isinstance(tool, RoundTool):
        return out | {"diameter_mm": tool.diameter_mm}
    out |= {"width_mm": tool.width_mm, "length_mm": tool.length_mm}
    direction = tool.angle_deg
    if isinstance(feature, Slot) and tool.turns:
        direction = lying.leg(leg).direction(feature.angle_deg)
    return out | {"direction_deg": direction}


def _reamed_to(lying: Lying, feature: Hole | Slot, tool: RoundTool | OblongTool) -> float | None:
    if feature.process != "sub-punch-and-ream":
        return None
    wanted = feature.diameter_mm if isinstance(feature, Hole) else feature.width_mm
    made = tool.diameter_mm if isinstance(tool, RoundTool) else tool.width_mm
    return wanted if wanted - made > lying.machine.hole_size_tolerance_mm else None


def half_extent(work: Operation) -> float:
    """Return how far an operation reaches along the bar from its centre, millimetres."""
    if work.diameter_mm is not None:
        return max(work.diameter_mm, work.reamed_to_mm or 0.0) / 2.0
    if work.length_mm is None or work.width_mm is None:
        return 0.0
    straight = work.length_mm - work.width_mm
    lengthwise = abs(math.cos(math.radians(work.direction_deg or 0.0)))
    return (straight * lengthwise + work.width_mm) / 2.0
