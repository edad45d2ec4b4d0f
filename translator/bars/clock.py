"""The clock: what the visits of a bar to its tools take, one after the other.

A visit is one place of the carriage at which something is done. Between two visits the bar moves
and comes to rest; a tool's first move across its leg runs beside the bar's move, and only what
it takes longer is counted. At a visit each unit (a station, the marker, the shear or saw) does
its work in turn; units work at the same time where the machine does that, and then the slowest
of them is what counts.
"""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Final, Literal

from msgspec import Struct, field

from translator.bars.figures import Assumption, Figure, Figures, used
from translator.bars.times import move_time_s
from translator.geometry.stops import SAME_STOP_MM

Activity = Literal[
    "load",
    "positioning",
    "settling",
    "gauge moves",
    "tool selection",
    "punching",
    "drilling",
    "milling",
    "marking",
    "stamping",
    "cutting",
    "regripping",
    "unload",
    "mark set-up",
    "first piece",
    "section change",
    "tool from the crib",
]
"""What a machine's time goes into."""

ACTIVITIES: Final[tuple[Activity, ...]] = (
    *("load", "positioning", "settling", "gauge moves", "tool selection", "punching"),
    *("drilling", "milling", "marking", "stamping", "cutting", "regripping", "unload"),
    *("mark set-up", "first piece", "section change", "tool from the crib"),
)
"""All of them, in the order of reports."""


class Spell(Struct, frozen=True, kw_only=True):
    """A time spent on one activity, and the assumptions it rests on."""

    activity: Activity
    seconds: float
    assumed: tuple[Assumption, ...] = ()


class Operation(Struct, frozen=True, kw_only=True):
    """What one unit does at one visit.

    Attributes:
        unit: name of the station; "marker" or "cut-off".
        tool: number of the tool, "" where there is none to select.
        selection: what selecting that tool takes.
        gauge_mm: where the tool stands at first, from the edge at the heel's place; None for a
            unit that does not move across.
        left_at_mm: where it stands at last.
        spells: what it takes there.
    """

    unit: str
    tool: str = ""
    selection: Figure | None = None
    gauge_mm: float | None = None
    left_at_mm: float | None = None
    spells: tuple[Spell, ...]


class Visit(Struct, frozen=True, kw_only=True):
    """A place of the carriage at which something is done.

    ``at_mm`` is where the bar's lead end then stands along the machine. ``is_ordered`` says that
    each unit does its operations in the order given; else it takes the order that suits it.
    """

    at_mm: float
    operations: tuple[Operation, ...]
    is_ordered: bool = False


class Standing(Struct, frozen=True, kw_only=True):
    """How the machine stands: the bar's lead end, tools across and in the stations.

    ``at_mm`` None = the bar has just been loaded, and how it is brought to its first place is
    part of loading it.
    """

    at_mm: float | None = None
    gauges: Mapping[str, float] = field(default_factory=lambda: _NOTHING_SET)
    tools: Mapping[str, str] = field(default_factory=lambda: _NO_TOOL)


_NOTHING_SET: Final[Mapping[str, float]] = MappingProxyType({})
_NO_TOOL: Final[Mapping[str, str]] = MappingProxyType({})


def clocked(
    figures: Figures, visits: Iterable[Visit], standing: Standing
) -> tuple[tuple[Spell, ...], Standing]:
    """Return what visits take, made in the order given, and how the machine stands then."""
    at, gauges, tools = standing.at_mm, dict(standing.gauges), dict(standing.tools)
    spells: list[Spell] = []
    for visit in visits:
        travel = () if at is None else _travel(figures, visit.at_mm - at)
        spells += travel
        meanwhile = sum(spell.seconds for spell in travel if spell.activity == "positioning")
        units: dict[str, list[Operation]] = {}
        for operation in visit.operations:
            units.setdefault(operation.unit, []).append(operation)
        taken = [
            _unit(
                figures,
                own if visit.is_ordered else _suited(own, tools),
                gauges,
                tools,
                meanwhile,
            )
            for own in units.values()
        ]
        spells += _side_by_side(figures, taken)
        at = visit.at_mm
    return tuple(spells), Standing(
        at_mm=at, gauges=MappingProxyType(gauges), tools=MappingProxyType(tools)
    )


def total_s(spells: Iterable[Spell]) -> float:
    """Return the sum of spells in seconds."""
    return sum(spell.seconds for spell in spells)


def _travel(figures: Figures, distance: float) -> tuple[Spell, ...]:
    if abs(distance) <= SAME_STOP_MM:
        return ()
    speed, acceleration = figures.feed_speed, figures.feed_acceleration
    seconds = move_time_s(distance, speed.value, acceleration.value)
    return (
        Spell(activity="positioning", seconds=seconds, assumed=used(speed, acceleration)),
        Spell(activity="settling", seconds=figures.settle.value, assumed=used(figures.settle)),
    )


def _side_by_side(figures: Figures, taken: Sequence[list[Spell]]) -> list[Spell]:
    if len(taken) < 2:  # noqa: PLR2004 - one unit, or none, is beside no other
        return [spell for own in taken for spell in own]
    if not figures.together.value:
        return [spell for own in taken for spell in own]
    slowest = max(taken, key=total_s)
    # What the others rest on has decided which of them is the slowest.
    beside = {a: None for own in taken for spell in own for a in spell.assumed}
    assumed = (*beside, *used(figures.together))
    said = Spell(activity="settling", seconds=0.0, assumed=assumed)
    return [*slowest, *([said] if assumed else [])]


def _unit(
    figures: Figures,
    operations: list[Operation],
    gauges: dict[str, float],
    tools: dict[str, str],
    meanwhile: float,
) -> list[Spell]:
    """Return what a unit takes at a visit; says in ``gauges`` and ``tools`` how it then stands."""
    spells: list[Spell] = []
    for operation in operations:
        spells += _selected(operation, tools)
        spells += _across(figures, operation, gauges, meanwhile)
        meanwhile = 0.0
        spells += operation.spells
    return spells


def _suited(operations: list[Operation], tools: Mapping[str, str]) -> list[Operation]:
    """Return operations with the tool that is in place first, each tool from the heel out."""
    own = tools.get(operations[0].unit)
    return sorted(operations, key=lambda o: (o.tool != own, o.tool, o.gauge_mm or 0.0))


def _selected(operation: Operation, tools: dict[str, str]) -> list[Spell]:
    before = tools.get(operation.unit)
    tools[operation.unit] = operation.tool
    chosen = operation.selection
    if chosen is None or before in (None, operation.tool):
        return []
    return [Spell(activity="tool selection", seconds=chosen.value, assumed=used(chosen))]


def _across(
    figures: Figures, operation: Operation, gauges: dict[str, float], meanwhile: float
) -> list[Spell]:
    if operation.gauge_mm is None:
        return []
    before = gauges.get(operation.unit)
    left = operation.left_at_mm
    gauges[operation.unit] = operation.gauge_mm if left is None else left
    if before is None or before == operation.gauge_mm:
        return []
    speed, acceleration = figures.gauge_speed, figures.gauge_acceleration
    seconds = move_time_s(operation.gauge_mm - before, speed.value, acceleration.value)
    beyond = max(0.0, seconds - meanwhile)
    return [Spell(activity="gauge moves", seconds=beyond, assumed=used(speed, acceleration))]
