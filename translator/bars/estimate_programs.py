"""The close estimate: what planned bars take, clocked stop by stop from their programs."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.bars.clock import Activity, Spell, total_s
from translator.bars.estimate import assumed_rows, section_name
from translator.bars.estimate_model import (
    EstimatedBars,
    EstimatedPiece,
    MachineEstimate,
    Setups,
)
from translator.bars.figures import ATTENDED, CRIB, Assumption, Figures, figure, figures, used
from translator.bars.merging import merging
from translator.bars.plan_model import Plan
from translator.bars.program import PartKey, part_key
from translator.bars.program_clock import Share, measured, program_shares
from translator.bars.program_model import Program, ToolChange
from translator.bars.sums import added, by_activity, per_hour, rounded, shares, times, totals
from translator.geometry.mass import gross_mass_kg, net_mass_kg
from translator.geometry.sections import section_area_mm2
from translator.machines.profile import Machine
from translator.model import Hole, Part, Placed, Slot, leg_names, leg_of
from translator.source import printable

METHOD: Final = (
    "each stop of each bar's program is clocked, one after the other",
    "a tool's first move across its leg runs while the bar moves; only what it takes longer counts",
    "where stations work at the same time the slowest of them counts",
    "a stop at which several pieces are worked is shared among them",
    "loading, regripping, the front trim and unloading belong to the bar, not to a piece",
    "tools of the crib are fetched once for the order",
    "attended time of bars, set-ups, first pieces and tool changes make the man-hours",
    "work by hand after the machine, inspection and moving material are in neither time",
)
"""How a close estimate is reckoned, as it is printed."""


class _Clocked(Struct, frozen=True, kw_only=True):
    """A program with what its steps take."""

    program: Program
    shares: tuple[Share, ...]

    @property
    def spells(self) -> tuple[Spell, ...]:
        return tuple(spell for share in self.shares for spell in share.spells)


def estimate_programs(
    machine: Machine, plan: Plan, programs: Sequence[Program], parts: Iterable[Placed]
) -> MachineEstimate:
    """Estimate what the bars of a plan take, from their programs.

    Pieces that lie on no bar, or on a bar whose program is refused, are in no figure; the
    estimate names them with the reason.

    Args:
        machine: the machine that the plan and the programs were made for.
        plan: the plan.
        programs: the program of each bar.
        parts: the parts that lie on the bars.
    """
    known = {part_key(placed): placed for placed in parts}
    own = figures(machine)
    clocked = [_clocked(machine, program, known, own) for program in programs if program.steps]
    pieces = (*_made(clocked, known), *_not_made(plan, programs, known))
    bars = tuple(_bars(clocked, own))
    setups, assumed = _setups(machine, own, clocked)
    sums = added(
        *(by_activity(one.spells) for one in clocked),
        {setup.activity: setup.seconds for setup in setups if setup.seconds},
    )
    attended = sum(bar.bars * bar.attended_seconds for bar in bars)
    on_setups = sum(setup.seconds for setup in setups)
    whole = totals(pieces, len(clocked), sum(sums.values()), attended + on_setups)
    assumed += tuple(a for one in clocked for spell in one.spells for a in spell.assumed)
    made = {key for one in clocked for key in _keys(one.program)}
    return MachineEstimate(
        machine=machine.name,
        basis="programs",
        pieces=pieces,
        bars=bars,
        setups=setups,
        activities=shares(sums),
        totals=whole,
        merging=merging([known[key].part for key in known if key in made], whole, own),
        assumptions=assumed_rows((*assumed, *((ATTENDED,) if own.attended is None else ()))),
        method=METHOD,
    )


def _clocked(
    machine: Machine, program: Program, known: Mapping[PartKey, Placed], own: Figures
) -> _Clocked:
    part = known[next(_keys(program))].part
    area = section_area_mm2(part.section)
    return _Clocked(program=program, shares=tuple(program_shares(machine, program, area, own)))


def _keys(program: Program) -> Iterator[PartKey]:
    for piece in program.pieces:
        yield piece.order, piece.mark, piece.revision


def _made(clocked: Sequence[_Clocked], known: Mapping[PartKey, Placed]) -> Iterator[EstimatedPiece]:
    """Yield each mark with what its pieces take on the average."""
    counts: Counter[PartKey] = Counter()
    sums: dict[PartKey, dict[Activity, float]] = {}
    stops: Counter[PartKey] = Counter()
    cuts: Counter[PartKey] = Counter()
    by_hand: dict[PartKey, tuple[str, ...]] = {}
    for one in clocked:
        keys = {
            piece.number: key
            for piece, key in zip(one.program.pieces, _keys(one.program), strict=True)
        }
        counts.update(keys.values())
        for piece in one.program.pieces:
            work = tuple(dict.fromkeys(each.what for each in piece.second_work))
            by_hand.setdefault(keys[piece.number], work)
        for share in one.shares:
            part_of = 1.0 / max(1, len(share.pieces))
            worked = by_activity(share.spells)
            for number in share.pieces:
                key = keys[number]
                sums[key] = added(sums.get(key, {}), times(worked, part_of))
                stops[key] += 1
                cuts[key] += "cutting" in worked
    for key, count in counts.items():
        each = times(sums.get(key, {}), 1.0 / count)
        yield _piece(
            known[key],
            count,
            each,
            (round(stops[key] / count), round(cuts[key] / count)),
            by_hand.get(key, ()),
        )


def _piece(
    placed: Placed,
    count: int,
    each: Mapping[Activity, float],
    done: tuple[int, int],
    by_hand: tuple[str, ...],
) -> EstimatedPiece:
    seconds = sum(each.values())
    return _about(placed, count).model_copy(
        update={
            "verdict": "with second work" if by_hand else "complete",
            "why": "",
            "second_work": by_hand,
            "stops": done[0],
            "cuts": done[1],
            "seconds": rounded(seconds),
            "pieces_per_hour": per_hour(seconds),
            "activities": shares(each),
        }
    )


def _about(placed: Placed, count: int, why: str = "") -> EstimatedPiece:
    part: Part = placed.part
    features = [f for leg in leg_names(part) for f in leg_of(part, leg).features]
    return EstimatedPiece(
        order=part.order,
        mark=part.mark,
        revision=part.revision,
        source=printable(placed.places[""].path),
        units=part.units,
        section=section_name(part),
        grade=part.grade,
        length_mm=part.length_mm,
        quantity=count,
        net_mass_kg=rounded(net_mass_kg(part)),
        billed_mass_kg=rounded(gross_mass_kg(part)),
        verdict="not",
        why=why,
        holes=sum(isinstance(f, Hole | Slot) for f in features),
    )


def _not_made(
    plan: Plan, programs: Iterable[Program], known: Mapping[PartKey, Placed]
) -> Iterator[EstimatedPiece]:
    """Yield what is on no bar, and what is on a bar that has no program."""
    for line in plan.unplaced:
        wanted = line.order, line.mark
        placed = next((p for key, p in known.items() if key[:2] == wanted), None)
        if placed is not None and line.count:
            yield _about(placed, line.count, f"{line.count} on no bar: {line.why}")
    for program in programs:
        if not program.steps:
            why = program.refused[0].message if program.refused else "nothing is done on it"
            for key, count in Counter(_keys(program)).items():
                if key in known:
                    yield _about(known[key], count, f"{program.bar_id} has no program: {why}")


def _bars(clocked: Sequence[_Clocked], own: Figures) -> Iterator[EstimatedBars]:
    """Yield bars, those that follow each other and take the same time together."""
    lots: list[list[tuple[_Clocked, float]]] = []
    for one in clocked:
        seconds = rounded(total_s(one.spells))
        before = lots[-1][-1] if lots else None
        if before is not None and _like(before[0], before[1]) == _like(one, seconds):
            lots[-1].append((one, seconds))
        else:
            lots.append([(one, seconds)])
    for lot in lots:
        program, seconds = lot[0][0].program, lot[0][1]
        last = lot[-1][0].program.bar_id
        yield EstimatedBars(
            id=program.bar_id if len(lot) == 1 else f"{program.bar_id} to {last}",
            section=program.section,
            grade=program.grade,
            units=program.units,
            length_mm=program.length_mm,
            bars=len(lot),
            pieces=sum(len(one.program.pieces) for one, _ in lot),
            seconds=seconds,
            attended_seconds=rounded(own.attended.value) if own.attended is not None else seconds,
        )


def _like(one: _Clocked, seconds: float) -> tuple[object, ...]:
    program = one.program
    return (
        *(program.section, program.grade, program.units, program.length_mm),
        *(len(program.pieces), seconds),
    )


def _setups(
    machine: Machine, own: Figures, clocked: Sequence[_Clocked]
) -> tuple[tuple[Setups, ...], tuple[Assumption, ...]]:
    marks = len({key for one in clocked for key in _keys(one.program)})
    first = sum(measured(one.program) for one in clocked)
    sections = [one.program.section for one in clocked]
    changes = sum(now != before for now, before in zip(sections, ["", *sections], strict=False))
    fetched = {
        (step.station, step.tool)
        for one in clocked
        for step in one.program.steps
        if isinstance(step, ToolChange)
    }
    crib = [
        figure(tool.change_time_s, CRIB)
        for station in machine.stations
        for tool in station.tools
        if (station.name, tool.number) in fetched
    ]
    once = (own.mark_setup, own.first_piece, own.section_change) if clocked else ()
    setups = (
        Setups(activity="mark set-up", count=marks, seconds=rounded(marks * own.mark_setup.value)),
        Setups(activity="first piece", count=first, seconds=rounded(first * own.first_piece.value)),
        Setups(
            activity="section change",
            count=changes,
            seconds=rounded(changes * own.section_change.value),
        ),
        Setups(
            activity="tool from the crib",
            count=len(crib),
            seconds=rounded(sum(each.value for each in crib)),
        ),
    )
    return setups, used(*once, *crib)
