"""Tool stations of a machine: where they stand, what they reach, how hard they press."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from translator.machines.ranges import Name, Positive, Range, Seconds, Share, Sides
from translator.machines.tools import CentreTool, OblongTool, Tool
from translator.model.numbers import Frozen, Mm, OffsetMm

Face = Literal["outside", "inside"]
"""Face of a leg that a tool enters."""


class Clearances(Frozen):
    """Steel that must stand beside a hole, from the hole's edge; absent = not checked.

    To the other leg it is counted from that leg's inside face: from the die where the punch
    enters from outside, from the stripper (or a drill's foot) where the tool enters from inside.
    """

    die_to_other_leg_mm: OffsetMm | None = None
    stripper_to_other_leg_mm: OffsetMm | None = None
    die_to_hole_mm: OffsetMm | None = None
    stripper_to_hole_mm: OffsetMm | None = None
    die_to_edge_mm: OffsetMm | None = None


class Station(Frozen):
    """One punch or drill of a machine.

    ``x_mm`` is its place along the machine from machine zero, positive the way the bar
    travels. ``from_heel`` and ``from_toe`` say where its tool's centre can stand on a leg; on a
    flat, the edge at the heel's place and the edge across. ``shear_factor`` is shear strength
    over tensile strength, for the load on the press. ``feed_allowance_mm`` is how far a drill
    travels at its feed besides the thickness and the length of its point.
    """

    name: Name
    x_mm: Mm = 0.0
    side: Sides
    process: Literal["punch", "drill"]
    enters: Face = "outside"
    from_heel: Range = Range()
    from_toe: Range = Range()
    clearances: Clearances = Clearances()
    force_kn: Positive | None = None
    shear_factor: Share | None = None
    approach_time_s: Seconds | None = None
    tool_select_time_s: Seconds | None = None
    feed_allowance_mm: OffsetMm | None = None
    tools: Annotated[tuple[Tool, ...], Field(max_length=500)] = ()

    @model_validator(mode="after")
    def _sound(self) -> "Station":
        numbers = [tool.number for tool in self.tools]
        for number in numbers:
            if numbers.count(number) > 1:
                raise ValueError(f"two tools have the number {number!r}")
        if self.process == "drill":
            self._is_drill()
        elif self.force_kn is not None and self.shear_factor is None:
            raise ValueError(
                "force_kn needs shear_factor beside it, to tell the load from the grade"
            )
        return self

    def _is_drill(self) -> None:
        if self.force_kn is not None:
            raise ValueError("force_kn is a press's; a drill has none")
        for tool in self.tools:
            if isinstance(tool, OblongTool):
                message = f"tool {tool.number!r} is oblong; a drill is round"
                raise ValueError(message)  # noqa: TRY004 - the value is wrong, not its type


def marks_centres(station: Station) -> bool:
    """Tell whether a station can mark a centre: it drills, or holds a centre punch."""
    return station.process == "drill" or any(isinstance(t, CentreTool) for t in station.tools)
