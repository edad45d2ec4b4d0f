"""What a batch asks of a machine, gathered for its setup sheet."""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from translator.bars.estimate import section_name
from translator.bars.first_piece import first_piece
from translator.bars.plan_model import PlannedBar
from translator.bars.program import PartKey, part_key
from translator.bars.program_lying import gauge
from translator.bars.program_model import Operation, Program, Stamping, Stop
from translator.bars.setup_model import (
    FirstPiece,
    StampUse,
    StockUse,
    ToolUse,
)
from translator.bars.wording import Units
from translator.machines.capable import Capability, capable
from translator.machines.lay import lay
from translator.machines.profile import Machine
from translator.model import (
    CentreMark,
    Hole,
    Placed,
    Slot,
    Stamp,
    feature_path,
    leg_of,
)


class Batch(Struct, frozen=True, kw_only=True):
    """What is to be done: by stations, by the marker, from which stock, and for which marks."""

    tools: tuple[ToolUse, ...]
    stamps: tuple[StampUse, ...]
    stock: tuple[StockUse, ...]
    first_pieces: tuple[FirstPiece, ...]
    not_made: tuple[tuple[str, str], ...] = ()
    remarks: tuple[str, ...] = ()


def of_parts(machine: Machine, parts: Sequence[Placed]) -> Batch:
    """Gather what parts with their quantities ask of a machine, each as it lies best there."""
    fits = [(placed, capable(machine, placed.part)) for placed in parts]
    made = [(placed, fit) for placed, fit in fits if fit.verdict != "not"]
    stock: dict[tuple[str, str, Units, float], int] = {}
    for placed, _ in made:
        part = placed.part
        key = (section_name(part), part.grade or "", part.units, part.length_mm)
        stock[key] = stock.get(key, 0) + part.quantity
    return Batch(
        tools=tuple(use for placed, fit in made for use in _tools(machine, placed, fit)),
        stamps=tuple(use for placed, fit in made for use in _stamps(placed, fit)),
        stock=tuple(
            StockUse(section=section, grade=grade, units=units, length_mm=length, count=count)
            for (section, grade, units, length), count in stock.items()
        ),
        first_pieces=tuple(
            first_piece(placed.part, fit.feed.lead_end, fit.second_work) for placed, fit in made
        ),
        not_made=tuple((p.part.mark, fit.why) for p, fit in fits if fit.verdict == "not"),
        remarks=("pieces are told as cut to length; bars follow from a cutting plan",),
    )


def _tools(machine: Machine, placed: Placed, fit: Capability) -> Iterator[ToolUse]:
    part = placed.part
    laid = lay(machine, part, fit.feed)
    features = {(leg, f.id): f for leg in laid.legs for f in leg_of(part, leg).features}
    for way in fit.ways:
        feature = features[way.leg, way.feature]
        if isinstance(feature, Hole | Slot | CentreMark):
            leg = laid.legs[way.leg]
            yield ToolUse(
                station=way.station,
                tool=way.tool,
                mark=part.mark,
                from_heel_mm=leg.from_heel(feature.y_mm),
                gauge_mm=gauge(machine, leg, feature.y_mm),
                count=way.hits * part.quantity,
            )


def _stamps(placed: Placed, fit: Capability) -> Iterator[StampUse]:
    part = placed.part
    by_hand = {reason.element for reason in fit.reasons if reason.hand_work}
    for leg in ("a", "b") if part.section.kind == "angle" else ("face",):
        for feature in leg_of(part, leg).features:
            if isinstance(feature, Stamp) and feature_path(leg, feature.id) not in by_hand:
                yield StampUse(
                    mark=part.mark,
                    text=part.mark if feature.text is None else feature.text,
                    height_mm=feature.height_mm,
                    count=part.quantity,
                )


def of_programs(
    bars: Sequence[PlannedBar], programs: Sequence[Program], parts: Sequence[Placed]
) -> Batch:
    """Gather what the programs of planned bars ask of their machine.

    Args:
        bars: the bars.
        programs: a program for each, in the same order.
        parts: the parts that lie on them.
    """
    work = [item for one in programs for item in _done(one)]
    return Batch(
        tools=tuple(_use(each) for each in work if isinstance(each, Operation)),
        stamps=tuple(
            StampUse(mark=each.mark, text=each.text, height_mm=each.height_mm, count=1)
            for each in work
            if isinstance(each, Stamping)
        ),
        stock=tuple(_stock(programs)),
        first_pieces=_first_pieces(programs, parts),
        not_made=tuple(
            (each.mark or bar_words(bar), each.message)
            for bar, one in zip(bars, programs, strict=True)
            for each in one.refused
        ),
    )


def _use(each: Operation) -> ToolUse:
    return ToolUse(
        station=each.station,
        tool=each.tool or "",
        mark=each.mark,
        from_heel_mm=each.from_heel_mm,
        gauge_mm=each.gauge_mm,
        count=1,
    )


def _stock(programs: Sequence[Program]) -> Iterator[StockUse]:
    """Yield the bars to load, alike ones together with all their heats."""
    lots: dict[tuple[str, str, Units, float], list[Program]] = {}
    for one in programs:
        key = (one.section, one.grade or "", one.units, one.length_mm)
        lots.setdefault(key, []).append(one)
    for (section, grade, units, length), own in lots.items():
        yield StockUse(
            section=section,
            grade=grade,
            units=units,
            length_mm=length,
            count=len(own),
            heats=tuple(dict.fromkeys(one.heat for one in own if one.heat)),
        )


def _first_pieces(programs: Sequence[Program], parts: Sequence[Placed]) -> tuple[FirstPiece, ...]:
    """Return what is measured on the first piece of each mark, in the order they come off."""
    known = {part_key(placed): placed.part for placed in parts}
    firsts: dict[PartKey, FirstPiece] = {}
    for one in programs:
        for piece in one.pieces:
            name = (piece.order, piece.mark, piece.revision)
            if name in known and name not in firsts:
                by_hand = tuple(dict.fromkeys(each.what for each in piece.second_work))
                firsts[name] = first_piece(known[name], piece.placement.lead_end, by_hand)
    return tuple(firsts.values())


def bar_words(bar: PlannedBar) -> str:
    """Return what a bar as a whole is called."""
    return f"bar {bar.number}"


def _done(program: Program) -> Iterator[Operation | Stamping]:
    for step in program.steps:
        for each in step.operations if isinstance(step, Stop) else ():
            if isinstance(each, Operation | Stamping):
                yield each
