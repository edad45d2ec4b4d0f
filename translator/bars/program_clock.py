"""The clock on a bar program: what each of its steps takes, and for which pieces it is taken."""

from collections.abc import Iterator

from msgspec import Struct

from translator.bars.clock import Operation as Done
from translator.bars.clock import Spell, Standing, Visit, clocked
from translator.bars.figures import Figures, used
from translator.bars.program_model import (
    Cut,
    GripBar,
    Load,
    Measure,
    Move,
    Operation,
    Program,
    Stamping,
    Stop,
    Unload,
)
from translator.bars.work import Task, made, parted, stamped
from translator.machines.profile import Machine


class Share(Struct, frozen=True, kw_only=True):
    """Spells of one step, and the pieces that they are for; none = the bar as a whole."""

    spells: tuple[Spell, ...]
    pieces: tuple[int, ...] = ()


def program_shares(
    machine: Machine, program: Program, area_mm2: float, figures: Figures
) -> Iterator[Share]:
    """Yield what the steps of a program take, in order, set-ups and measuring apart.

    Args:
        machine: the machine that it was made for.
        program: the program.
        area_mm2: of the bar's section, for a saw.
        figures: speeds and times of the machine.
    """
    standing = Standing()
    for step in program.steps:
        match step:
            case Load():
                standing = Standing(at_mm=step.feed_mm, gauges=standing.gauges)
                yield Share(spells=(_once("load", figures),))
            case GripBar() if step.is_regrip:
                yield Share(spells=(_once("regripping", figures),))
            case Move():
                visit = Visit(at_mm=step.feed_mm, operations=())
                spells, standing = clocked(figures, [visit], standing)
                yield Share(spells=spells)
            case Stop():
                visit = _visit(machine, program, step, area_mm2, figures)
                spells, standing = clocked(figures, [visit], standing)
                yield Share(spells=spells, pieces=_pieces(step))
            case Unload():
                yield Share(spells=(_once("unload", figures),))
            case _:  # fetching tools and measuring are done once for the order, not for each bar
                continue


def measured(program: Program) -> int:
    """Return how many first pieces a program stops for."""
    return sum(isinstance(step, Measure) for step in program.steps)


def _once(activity: str, figures: Figures) -> Spell:
    match activity:
        case "load":
            return Spell(activity="load", seconds=figures.load.value, assumed=used(figures.load))
        case "unload":
            return Spell(
                activity="unload", seconds=figures.unload.value, assumed=used(figures.unload)
            )
        case _:
            return Spell(
                activity="regripping", seconds=figures.regrip.value, assumed=used(figures.regrip)
            )


def _visit(
    machine: Machine, program: Program, stop: Stop, area_mm2: float, figures: Figures
) -> Visit:
    return Visit(
        at_mm=stop.feed_mm,
        operations=tuple(
            _done(machine, program, each, area_mm2, figures) for each in stop.operations
        ),
        is_ordered=True,
    )


def _done(
    machine: Machine,
    program: Program,
    each: Operation | Stamping | Cut,
    area_mm2: float,
    figures: Figures,
) -> Done:
    if isinstance(each, Operation):
        return made(machine, _task(program, each), figures)
    if isinstance(each, Stamping):
        if machine.marker is None:
            raise ValueError("a program stamps on a machine without a marker")
        return stamped(machine.marker, len(each.text.replace(" ", "")), each.nearest_mm)
    if machine.cut_off is None:
        raise ValueError("a program cuts on a machine that does not cut")
    return parted(machine.cut_off, area_mm2, each.left_deg, each.right_deg)


def _task(program: Program, each: Operation) -> Task:
    along = 0.0 if each.to_bar_mm is None else each.to_bar_mm - each.bar_mm
    across = 0.0 if each.to_from_heel_mm is None else each.to_from_heel_mm - each.from_heel_mm
    thickness = program.thickness_mm or 0.0
    return Task(
        station=each.station,
        tool=each.tool or "",
        process="drill" if each.process == "mill" else each.process,
        hits=1,
        gauge_mm=each.from_heel_mm + across / 2.0,
        depth_mm=min(each.depth_mm or thickness, thickness),
        diameter_mm=each.diameter_mm or each.width_mm or 0.0,
        along_mm=along,
        across_mm=across,
        comes_down=each.hit == 1,
    )


def _pieces(stop: Stop) -> tuple[int, ...]:
    """Return the pieces that something is done for, each once.

    A cut is made for the piece that it parts off, or for the one behind it whose end it makes;
    the cut that trims the front of the bar is made for the bar.
    """
    numbers = (
        (each.ahead or each.behind) if isinstance(each, Cut) else each.piece
        for each in stop.operations
        if not _is_front_trim(each)
    )
    return tuple(dict.fromkeys(number for number in numbers if number is not None))


def _is_front_trim(each: Operation | Stamping | Cut) -> bool:
    return isinstance(each, Cut) and each.ahead is None and each.behind in {None, 1}
