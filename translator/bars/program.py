"""The program of one bar, from the plan, the parts and the machine."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from translator.bars.plan_model import PlannedBar
from translator.bars.program_carriage import carriage_of
from translator.bars.program_checks import bar_faults, missing, piece_faults, reach_faults
from translator.bars.program_cuts import corners, cuts_of, widths
from translator.bars.program_grips import CannotHoldError, GripStep, grips
from translator.bars.program_jobs import PieceJobs, all_jobs
from translator.bars.program_lying import Lying, lying
from translator.bars.program_model import (
    Load,
    Measure,
    Operation,
    Program,
    ProgramDrop,
    ProgramTool,
    Refused,
    Step,
    Stop,
    ToolChange,
    Unload,
)
from translator.bars.program_stops import Halt, halts
from translator.machines.profile import Machine
from translator.machines.reasons import length_words
from translator.machines.tools import OblongTool, RoundTool
from translator.model import Placed, on_grid

_SAME_MM: Final = 1e-6

PartKey = tuple[str | None, str, str | None]
"""Order, mark and revision: what tells a part."""


def bar_id(bar: PlannedBar) -> str:
    """Return the id that a bar's program, its file and its labels carry: "bar-001"."""
    return f"bar-{bar.number:03d}"


def part_key(placed: Placed) -> PartKey:
    """Return the key under which a plan names a part."""
    part = placed.part
    return part.order, part.mark, part.revision


def program_of(bar: PlannedBar, parts: Iterable[Placed], machine: Machine) -> Program:
    """Return the program of one bar: same bar, parts and machine, same program.

    What keeps a piece from being made as planned stands in ``refused``, with what would help;
    such a program has no steps, since a bar that is worked halfway is scrap.

    Args:
        bar: the bar as planned.
        parts: parts with the places of their elements; those that are not on the bar are
            passed over.
        machine: the machine that the bar was planned for.
    """
    known = {part_key(placed): placed for placed in parts}
    pieces, refused = _laid(bar, known, machine)
    refused += [] if refused else bar_faults(bar, pieces, machine)
    worked = all_jobs(pieces)
    refused += [fault for one in worked for fault in one.refused]
    refused += [
        fault
        for piece, one in zip(pieces, worked, strict=True)
        for job in one.jobs
        if isinstance(job.work, Operation)
        for fault in reach_faults(piece, job.work)
    ]
    steps: tuple[Step, ...] = ()
    if not refused and machine.cut_off is not None:
        try:
            steps = tuple(_steps(bar, pieces, worked, machine))
        except CannotHoldError as error:
            refused = [error.refused]
    return _program(bar, pieces, worked, machine, steps, tuple(refused))


def _laid(
    bar: PlannedBar, known: Mapping[PartKey, Placed], machine: Machine
) -> tuple[list[Lying], list[Refused]]:
    pieces: list[Lying] = []
    refused: list[Refused] = []
    for planned in bar.pieces:
        placed = known.get((planned.order, planned.mark, planned.revision))
        if placed is None:
            refused.append(missing(planned))
            continue
        piece = lying(planned, placed, machine)
        pieces.append(piece)
        refused += piece_faults(bar, piece)
    return pieces, refused


def _steps(
    bar: PlannedBar, pieces: Sequence[Lying], worked: Sequence[PieceJobs], machine: Machine
) -> Iterator[Step]:
    cut_off = machine.cut_off
    jobs = [job for one in worked for job in one.jobs]
    stops = halts(jobs, cuts_of(bar), cut_off.x_mm if cut_off else 0.0)
    for tool in _tools(machine, jobs_of(stops)):
        if tool.is_fetched:
            yield ToolChange(station=tool.station, tool=tool.tool)
    if not stops:
        return
    yield Load(feed_mm=stops[0].feed)
    yield from _worked(bar, pieces, stops, machine)
    yield Unload()


def _worked(
    bar: PlannedBar, pieces: Sequence[Lying], stops: Sequence[Halt], machine: Machine
) -> Iterator[Step]:
    length = bar.measured_mm or bar.length_mm
    thickness = pieces[0].part.section.thickness_mm
    carriage = carriage_of(machine, length, corners(widths(pieces[0]), thickness))
    taken: list[list[GripStep]] = [[] for _ in stops]
    if carriage is not None:
        taken = grips(carriage, stops)
    first = {p.planned.number: p for p in pieces if p.planned.index == 1}
    held: float | None = None
    for number, (halt, before) in enumerate(zip(stops, taken, strict=True), start=1):
        yield from before
        held = next((s.from_mm for s in reversed(before) if s.kind == "grip"), held)
        stands = None if carriage is None or held is None else carriage.stands(halt.feed, held)
        yield Stop(
            number=number,
            feed_mm=halt.feed,
            counter_mm=_counter(machine, length, halt.feed),
            carriage_mm=stands,
            operations=(*(job.work for job in halt.jobs), *halt.cuts),
        )
        for freed in halt.frees:
            if freed in first:
                yield _measure(first[freed])


def _counter(machine: Machine, length: float, feed: float) -> float:
    return feed if machine.datum.along == "lead-end" else on_grid(length - feed)


def _measure(piece: Lying) -> Measure:
    part = piece.part
    length = length_words(part, part.length_mm)
    return Measure(
        piece=piece.planned.number,
        mark=part.mark,
        length_mm=part.length_mm,
        instruction=f"first piece of {part.mark}: stop and measure length ({length}), gauges,"
        " spacing and the hand before going on",
    )


def jobs_of(stops: Iterable[Halt]) -> list[Operation]:
    """Return all operations of some stops, in order; stamps and cuts use no tool of a station."""
    works = [job.work for stop in stops for job in stop.jobs]
    return [work for work in works if isinstance(work, Operation)]


def _tools(machine: Machine, operations: Sequence[Operation]) -> Iterator[ProgramTool]:
    """Yield the tools that are used, in the profile's order."""
    uses: dict[tuple[str, str], list[Operation]] = {}
    for work in operations:
        if work.tool is not None:
            uses.setdefault((work.station, work.tool), []).append(work)
    for station in machine.stations:
        for tool in station.tools:
            made = uses.get((station.name, tool.number))
            if not made:
                continue
            yield ProgramTool(
                station=station.name,
                tool=tool.number,
                side=station.side,
                shape=tool.shape,
                diameter_mm=tool.diameter_mm if isinstance(tool, RoundTool) else None,
                width_mm=tool.width_mm if isinstance(tool, OblongTool) else None,
                length_mm=tool.length_mm if isinstance(tool, OblongTool) else None,
                is_fetched=tool.place == "crib",
                uses=len(made),
            )


def _program(  # noqa: PLR0913, PLR0917 - what a program is made of
    bar: PlannedBar,
    pieces: Sequence[Lying],
    worked: Sequence[PieceJobs],
    machine: Machine,
    steps: tuple[Step, ...],
    refused: tuple[Refused, ...],
) -> Program:
    wide = widths(pieces[0]) if pieces else {}
    operations = [
        work
        for step in steps
        if isinstance(step, Stop)
        for work in step.operations
        if isinstance(work, Operation)
    ]
    return Program(
        machine=machine.name,
        bar_id=bar_id(bar),
        bar=bar.number,
        stock=bar.stock,
        heat=bar.heat,
        certificate=bar.certificate,
        location=bar.location,
        is_remnant=bar.is_remnant,
        length_mm=bar.length_mm,
        measured_mm=bar.measured_mm,
        least_length_mm=_least_length(bar, steps, machine),
        section=bar.section,
        grade=bar.grade,
        units=pieces[0].part.units if pieces else "mm",
        thickness_mm=pieces[0].part.section.thickness_mm if pieces else None,
        left_leg_mm=wide.get("left"),
        right_leg_mm=wide.get("right"),
        heel=bar.heel,
        lead_end=bar.lead_end,
        front_trim_mm=bar.front_trim_mm,
        tail_mm=bar.tail_mm,
        drop=ProgramDrop(length_mm=bar.drop.length_mm, kind=bar.drop.kind, label=bar.drop.label),
        pieces=tuple(one.piece for one in worked),
        tools=tuple(_tools(machine, operations)),
        steps=steps,
        refused=refused,
        remarks=(),
    )


def _least_length(bar: PlannedBar, steps: tuple[Step, ...], machine: Machine) -> float:
    """Return the shortest bar that the program can be run on, millimetres.

    Its pieces must be in it, and behind the last place that is worked the tail. A carriage that
    regrips takes the bar where the program says, so it must be there.
    """
    ends = [piece.trail_mm for piece in bar.pieces]
    tail = machine.grip.tail_mm if machine.grip else 0.0
    for step in steps:
        if isinstance(step, Stop):
            for work in step.operations:
                place = work.heel_mm + work.loss_mm if work.kind == "cut" else work.bar_mm
                ends.append(place)
                ends.append((work.heel_mm if work.kind == "cut" else work.bar_mm) + tail)
        elif step.kind == "grip" and machine.grip is not None and machine.grip.can_regrip:
            ends.append(step.to_mm)
    return on_grid(max(ends, default=0.0))
