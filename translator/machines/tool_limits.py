"""What keeps a tool of the right size from making a hole at its place, in its steel."""

from collections.abc import Iterator

from translator.findings import Severity
from translator.geometry.clearance import extent
from translator.lengths.characters import shown
from translator.machines.lay import Lay, LegLay
from translator.machines.ranges import SLACK_MM, Range
from translator.machines.reasons import Reason, decimal, length_words, named
from translator.machines.steel import for_grade
from translator.machines.tool_choice import Candidate, CutTool
from translator.machines.tools import RoundTool
from translator.model import Angle, Hole, Slot, feature_path
from translator.tables.cutting_forces import (
    hole_perimeter_mm,
    punching_force_kn,
    slot_perimeter_mm,
)


def limits(lay: Lay, leg: LegLay, feature: Hole | Slot, candidate: Candidate) -> Iterator[Reason]:
    """Yield every limit that a tool breaks in making a hole or slot."""
    yield from _out_of_reach(lay, leg, feature, candidate)
    yield from _too_thick(lay, leg, feature, candidate)
    yield from _overloaded(lay, leg, feature, candidate)
    yield from _other_leg(lay, leg, feature, candidate)
    yield from _edge(lay, leg, feature, candidate)


def load_kn(lay: Lay, candidate: Candidate) -> float | None:
    """Return the load of one hit on the press in kN; None when the steel is not known.

    Perimeter times thickness times shear strength, the latter from the grade's *highest*
    tensile strength: the press must stand the strongest steel that may be delivered.
    """
    most, factor = lay.steel.tensile_most_mpa, candidate.station.shear_factor
    if most is None or factor is None:
        return None
    thickness = lay.part.section.thickness_mm
    return punching_force_kn(_perimeter(candidate.tool), thickness, factor * most)


def _perimeter(tool: CutTool) -> float:
    if isinstance(tool, RoundTool):
        return hole_perimeter_mm(tool.diameter_mm)
    return slot_perimeter_mm(tool.width_mm, tool.length_mm)


def _out_of_reach(
    lay: Lay, leg: LegLay, feature: Hole | Slot, candidate: Candidate
) -> Iterator[Reason]:
    station = candidate.station
    heel = [leg.from_heel(y) for y in candidate.ys]
    toe = [leg.from_toe(y) for y in candidate.ys]
    for gauges, reach, edge in (
        (heel, station.from_heel, leg.heel_words),
        (toe, station.from_toe, leg.toe_words),
    ):
        beyond = outside(gauges, reach)
        if beyond is None:
            continue
        value, limit = beyond
        words = "less than the" if value < limit else "more than the"
        yield Reason(
            rule="gauge-out-of-reach",
            message=f"{named(feature)} is {length_words(lay.part, value)} from {edge}, {words}"
            f" {length_words(lay.part, limit)} that station {station.name} reaches",
            element=feature_path(leg.leg, feature.id),
            value=value,
            limit=limit,
        )
        return


def outside(gauges: list[float], reach: Range) -> tuple[float, float] | None:
    """Return the gauge that lies farthest outside a range, and the bound it passes, or None."""
    low, high = min(gauges), max(gauges)
    if low < reach.least_mm - SLACK_MM:
        return low, reach.least_mm
    if reach.most_mm is not None and high > reach.most_mm + SLACK_MM:
        return high, reach.most_mm
    return None


def _too_thick(
    lay: Lay, leg: LegLay, feature: Hole | Slot, candidate: Candidate
) -> Iterator[Reason]:
    limit = for_grade(candidate.tool.thickness_limits, lay.steel.name)
    thickness = lay.part.section.thickness_mm
    if limit is None or thickness <= limit.most_mm + SLACK_MM:
        return
    steel = f" in {limit.grade}" if limit.grade is not None else ""
    yield Reason(
        rule="steel-too-thick-for-tool",
        message=f"{named(feature)} goes through {length_words(lay.part, thickness)}, more than the"
        f" {length_words(lay.part, limit.most_mm)} that tool {candidate.tool.number} takes{steel}",
        element=feature_path(leg.leg, feature.id),
        value=thickness,
        limit=limit.most_mm,
    )


def _overloaded(
    lay: Lay, leg: LegLay, feature: Hole | Slot, candidate: Candidate
) -> Iterator[Reason]:
    station = candidate.station
    load = load_kn(lay, candidate)
    if load is None or station.force_kn is None or load <= station.force_kn:
        return
    memory = " (its highest tensile strength is from memory)" if lay.steel.is_from_memory else ""
    yield Reason(
        rule="punch-overloaded",
        message=f"{named(feature)} needs {decimal(load, 2)} kN in {shown(lay.steel.name)}, more"
        f" than the {decimal(station.force_kn, 2)} kN of station {station.name}{memory}",
        element=feature_path(leg.leg, feature.id),
        value=load,
        limit=station.force_kn,
        unit="kN",
        severity=Severity.WARNING if lay.steel.is_from_memory else Severity.ERROR,
    )


def _other_leg(
    lay: Lay, leg: LegLay, feature: Hole | Slot, candidate: Candidate
) -> Iterator[Reason]:
    """Yield a hole whose die, or whose stripper, would foul the other leg."""
    section, station = lay.part.section, candidate.station
    if not isinstance(section, Angle):
        return
    clear, what = station.clearances.stripper_to_other_leg_mm, "stripper"
    if station.enters == "outside":
        is_punch = station.process == "punch"
        clear, what = station.clearances.die_to_other_leg_mm if is_punch else None, "die"
    elif station.process == "drill":
        what = "drill's foot"
    value = extent(feature).low - section.thickness_mm
    if clear is None or value >= clear - SLACK_MM:
        return
    yield Reason(
        rule="hole-too-near-other-leg",
        message=f"the edge of {named(feature)} is {length_words(lay.part, value)} from the inside"
        f" of the other leg, less than the {length_words(lay.part, clear)} that the {what} of"
        f" station {station.name} needs",
        element=feature_path(leg.leg, feature.id),
        value=value,
        limit=clear,
    )


def _edge(lay: Lay, leg: LegLay, feature: Hole | Slot, candidate: Candidate) -> Iterator[Reason]:
    """Yield a punched hole with too little steel to the toe, or to either edge of a flat."""
    station = candidate.station
    clear = station.clearances.die_to_edge_mm
    if clear is None or station.process == "drill":
        return
    box = extent(feature)
    value, edge = leg.width - box.high, "the toe" if leg.leg != "face" else "the upper edge"
    if leg.leg == "face" and box.low < value:
        value, edge = box.low, "the lower edge"
    if value >= clear - SLACK_MM:
        return
    yield Reason(
        rule="edge-thin-for-die",
        message=f"the edge of {named(feature)} is {length_words(lay.part, value)} from {edge}, less"
        f" than the {length_words(lay.part, clear)} that the die of station {station.name} needs",
        element=feature_path(leg.leg, feature.id),
        value=value,
        limit=clear,
    )
