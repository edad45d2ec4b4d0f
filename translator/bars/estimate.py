"""The quick estimate: what an order takes on a machine, from its parts and the profile alone."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.bars.bar_count import bars_needed, longest_bar, usual_bar
from translator.bars.clock import Activity, total_s
from translator.bars.cycle import Cycle, cycle
from translator.bars.estimate_model import (
    Assumed,
    Estimate,
    EstimatedBars,
    EstimatedPiece,
    MachineEstimate,
    Setups,
)
from translator.bars.figures import (
    ATTENDED,
    CRIB,
    Assumption,
    Figure,
    Figures,
    figure,
    figures,
    in_order,
    used,
)
from translator.bars.merging import merging
from translator.bars.sums import added, by_activity, per_hour, rounded, shares, times, totals
from translator.bars.work import parted
from translator.geometry.mass import gross_mass_kg, net_mass_kg
from translator.geometry.sections import section_area_mm2
from translator.machines.capable import Capability, capable
from translator.machines.profile import Machine
from translator.machines.ranges import SLACK_MM
from translator.model import Hole, Part, Placed, Slot, leg_names, leg_of
from translator.source import printable
from translator.tables.designations import designation_of

METHOD: Final = (
    "each piece is clocked as one of a bar that holds nothing else",
    "a tool's first move across its leg runs while the bar moves; only what it takes longer counts",
    "where stations work at the same time the slowest of them counts",
    "bars are filled longest piece first; a cutting plan may need fewer",
    "tools of the crib are fetched once for the order",
    "attended time of bars, set-ups, first pieces and tool changes make the man-hours",
    "work by hand after the machine, inspection and moving material are in neither time",
)

"""How a quick estimate is reckoned, as it is printed."""


class _Made(Struct, frozen=True, kw_only=True):
    """A part on a machine that makes it."""

    part: Part
    capability: Capability
    cycle: Cycle


class _Group(Struct, frozen=True, kw_only=True):
    """Bars of one section, grade and length, and what is cut from them."""

    bars: EstimatedBars
    sums: Mapping[Activity, float]
    assumed: tuple[Assumption, ...]


def estimate(
    machine: Machine, parts: Sequence[Placed], bar_mm: float | None = None
) -> MachineEstimate:
    """Estimate what an order takes on one machine.

    Args:
        machine: the machine.
        parts: the parts with their quantities.
        bar_mm: length of bar to reckon with; None = the usual one.
    """
    own = figures(machine)
    fits = [(placed, capable(machine, placed.part)) for placed in parts]
    made = [
        _Made(part=p.part, capability=fit, cycle=cycle(machine, p.part, fit, own))
        for p, fit in fits
        if fit.verdict != "not"
    ]
    cycles = {id(one.part): one.cycle for one in made}
    pieces = tuple(_piece(placed, fit, cycles.get(id(placed.part))) for placed, fit in fits)
    groups = tuple(_groups(machine, own, made, bar_mm))
    setups, assumed = _setups(machine, own, made)
    sums = added(*(g.sums for g in groups), {s.activity: s.seconds for s in setups if s.seconds})
    on_setups = sum(setup.seconds for setup in setups)
    attended = sum(g.bars.bars * g.bars.attended_seconds for g in groups)
    whole = totals(
        pieces, sum(g.bars.bars for g in groups), sum(sums.values()), attended + on_setups
    )
    all_assumed = [*assumed, *(a for g in groups for a in g.assumed)]
    return MachineEstimate(
        machine=machine.name,
        basis="parts",
        pieces=pieces,
        bars=tuple(group.bars for group in groups),
        setups=setups,
        activities=shares(sums),
        totals=whole,
        merging=merging([one.part for one in made], whole, own),
        assumptions=assumed_rows(all_assumed),
        method=METHOD,
    )


def compare(
    machines: Sequence[Machine], parts: Sequence[Placed], bar_mm: float | None = None
) -> Estimate:
    """Estimate an order on several machines, and on the marks that all of them can make."""
    each = tuple(estimate(machine, parts, bar_mm) for machine in machines)
    if len(each) < 2:  # noqa: PLR2004 - one machine is compared with none
        return Estimate(machines=each)
    everywhere = [
        placed
        for number, placed in enumerate(parts)
        if all(one.pieces[number].verdict != "not" for one in each)
    ]
    return Estimate(
        machines=each,
        common_marks=len(everywhere),
        common=tuple(estimate(machine, everywhere, bar_mm).totals for machine in machines),
    )


def assumed_rows(assumptions: Iterable[Assumption]) -> tuple[Assumed, ...]:
    """Return assumptions as the document has them, each once."""
    return tuple(
        Assumed(what=a.what, value=a.value, unit=a.unit, source=a.source, field=a.field)
        for a in in_order(assumptions)
    )


def _piece(placed: Placed, fit: Capability, made: Cycle | None) -> EstimatedPiece:
    part = placed.part
    features = [f for leg in leg_names(part) for f in leg_of(part, leg).features]
    spells = made.spells if made is not None else ()
    seconds = total_s(spells)
    return EstimatedPiece(
        order=part.order,
        mark=part.mark,
        revision=part.revision,
        source=printable(placed.places[""].path),
        units=part.units,
        section=section_name(part),
        grade=part.grade,
        length_mm=part.length_mm,
        quantity=part.quantity,
        net_mass_kg=rounded(net_mass_kg(part)),
        billed_mass_kg=rounded(gross_mass_kg(part)),
        verdict=fit.verdict,
        why=fit.why if fit.verdict == "not" else "",
        second_work=fit.second_work if made is not None else (),
        holes=sum(isinstance(f, Hole | Slot) for f in features),
        stops=made.visits if made is not None else 0,
        cuts=made.cuts if made is not None else 0,
        seconds=rounded(seconds),
        pieces_per_hour=per_hour(seconds),
        activities=shares(by_activity(spells)),
    )


def section_name(part: Part) -> str:
    """Return the section's designation, else the one that its sizes give."""
    return part.section.designation or designation_of(part.section)


def _groups(
    machine: Machine, own: Figures, made: Sequence[_Made], bar_mm: float | None
) -> Iterator[_Group]:
    """Yield the bars of each section, grade and length."""
    sorted_by: dict[tuple[str, str], list[_Made]] = {}
    for one in made:
        key = section_name(one.part), one.part.grade or ""
        sorted_by.setdefault(key, []).append(one)
    for _, members in sorted(sorted_by.items()):
        if machine.cut_off is None:
            yield _one_by_one(own, members)
            continue
        bar = usual_bar(machine, members[0].part.units, bar_mm)
        lost = _front_and_tail(machine)
        short = [m for m in members if m.cycle.pitch_mm + lost <= bar.value + SLACK_MM]
        longer = [m for m in members if m.cycle.pitch_mm + lost > bar.value + SLACK_MM]
        if short:
            yield _bars(machine, own, short, bar)
        if longer:
            needed = max(m.cycle.pitch_mm for m in longer) + lost
            length = longest_bar(machine, bar.value, needed)
            yield _bars(machine, own, longer, usual_bar(machine, "mm", length))


def _front_and_tail(machine: Machine) -> float:
    trim = machine.cut_off.front_trim_mm if machine.cut_off is not None else 0.0
    return trim + (machine.grip.tail_mm if machine.grip is not None else 0.0)


def _bars(machine: Machine, own: Figures, members: Sequence[_Made], bar: Figure) -> _Group:
    lengths = [(m.cycle.pitch_mm, m.part.quantity) for m in members]
    count = bars_needed(lengths, bar.value - _front_and_tail(machine))
    around: dict[Activity, float] = {"load": own.load.value, "unload": own.unload.value}
    assumed = list(used(own.load, own.unload, bar))
    grip, cut = machine.grip, machine.cut_off
    if grip is not None and grip.can_regrip and grip.travel_mm is not None:
        regrips = max(0, math.ceil((bar.value - SLACK_MM) / grip.travel_mm) - 1)
        around["regripping"] = regrips * own.regrip.value
        assumed += used(own.regrip) if regrips else ()
    if cut is not None and cut.front_trim_mm:
        trim = parted(cut, section_area_mm2(members[0].part.section), 0.0, 0.0).spells
        around["cutting"] = total_s(trim)
        assumed += [a for spell in trim for a in spell.assumed]
    return _summed(own, members, bar.value, (count, around), assumed)


def _one_by_one(own: Figures, members: Sequence[_Made]) -> _Group:
    """Return pieces that come cut to length: each is laid in and taken out by itself."""
    count = sum(member.part.quantity for member in members)
    around: dict[Activity, float] = {"load": own.load.value, "unload": own.unload.value}
    longest = max(member.part.length_mm for member in members)
    return _summed(own, members, longest, (count, around), list(used(own.load, own.unload)))


def _summed(
    own: Figures,
    members: Sequence[_Made],
    length_mm: float,
    bars: tuple[int, Mapping[Activity, float]],
    assumed: list[Assumption],
) -> _Group:
    count, around = bars
    worked = [times(by_activity(m.cycle.spells), m.part.quantity) for m in members]
    sums = added(*worked, times(around, count))
    assumed += [a for m in members for spell in m.cycle.spells for a in spell.assumed]
    seconds = sum(sums.values()) / count
    if own.attended is None:
        assumed.append(ATTENDED)
    part = members[0].part
    return _Group(
        bars=EstimatedBars(
            section=section_name(part),
            grade=part.grade,
            units=part.units,
            length_mm=length_mm,
            bars=count,
            pieces=sum(member.part.quantity for member in members),
            seconds=rounded(seconds),
            attended_seconds=rounded(own.attended.value if own.attended is not None else seconds),
        ),
        sums=sums,
        assumed=tuple(assumed),
    )


def _setups(
    machine: Machine, own: Figures, made: Sequence[_Made]
) -> tuple[tuple[Setups, ...], tuple[Assumption, ...]]:
    """Return what is done once for each mark, section and tool of the crib."""
    marks = len(made)
    sections = len({section_name(one.part) for one in made})
    fetched = list(_fetched(machine, made))
    crib = sum(each.value for each in fetched)
    setups = (
        Setups(activity="mark set-up", count=marks, seconds=rounded(marks * own.mark_setup.value)),
        Setups(activity="first piece", count=marks, seconds=rounded(marks * own.first_piece.value)),
        Setups(
            activity="section change",
            count=sections,
            seconds=rounded(sections * own.section_change.value),
        ),
        Setups(activity="tool from the crib", count=len(fetched), seconds=rounded(crib)),
    )
    once = (own.mark_setup, own.first_piece, own.section_change) if made else ()
    return setups, used(*once, *fetched)


def _fetched(machine: Machine, made: Sequence[_Made]) -> Iterator[Figure]:
    """Yield the change time of each tool of the crib that is wanted."""
    wanted = {(way.station, way.tool) for one in made for way in one.capability.ways}
    for station in machine.stations:
        for tool in station.tools:
            if tool.place == "crib" and (station.name, tool.number) in wanted:
                yield figure(tool.change_time_s, CRIB)
