"""How many of one piece a bar gives, with the arithmetic shown."""

from msgspec import Struct

from translator.bars.cutting_stock import NM_PER_MM, nanometres
from translator.bars.demand import Demand
from translator.bars.lies import able
from translator.bars.plan_model import PlanOptions
from translator.bars.plan_problem import Member, capacity, cut_loss, weight
from translator.bars.wording import Units, length_words, many
from translator.machines.profile import Machine
from translator.model import Placed


class Fill(Struct, frozen=True, kw_only=True):
    """How many of one piece a bar gives.

    Attributes:
        mark: the piece.
        units: those of its drawing.
        count: how many.
        bar_mm: length of the bar.
        piece_mm: length of the piece.
        cut_mm: what each cut takes along the bar.
        over_mm: what mitres of both legs take beside it.
        front_mm: front trim.
        tail_mm: dead length.
        drop_mm: what is left, dead length and all.
        why_not: why the machine makes none; "" when it does.
    """

    mark: str
    units: Units
    count: int
    bar_mm: float
    piece_mm: float
    cut_mm: float = 0.0
    over_mm: float = 0.0
    front_mm: float = 0.0
    tail_mm: float = 0.0
    drop_mm: float = 0.0
    why_not: str = ""


def fill(machine: Machine, placed: Placed, bar_mm: float, options: PlanOptions) -> Fill:
    """Count how many of a piece a bar gives on a machine."""
    part = placed.part
    own = able(machine, placed)
    if not own.lies:
        return Fill(
            mark=part.mark,
            units=part.units,
            count=0,
            bar_mm=bar_mm,
            piece_mm=part.length_mm,
            why_not=own.capability.why,
        )
    member = Member(demand=Demand(placed=placed), able=own)
    each, room = weight(member, options), capacity(bar_mm, options)
    count = max(0, room // each)
    lie = own.lies[0]
    used = nanometres(options.front_trim_mm) + count * each
    return Fill(
        mark=part.mark,
        units=part.units,
        count=count,
        bar_mm=bar_mm,
        piece_mm=part.length_mm,
        cut_mm=cut_loss(options, lie.stretch) / NM_PER_MM,
        over_mm=round(lie.lead_over + lie.trail_over, 6),
        front_mm=options.front_trim_mm,
        tail_mm=options.tail_mm,
        drop_mm=max(0, nanometres(bar_mm) - used) / NM_PER_MM,
    )


def fill_text(value: Fill) -> str:
    """Return the count in a line, and how it came about."""

    def words(mm: float) -> str:
        return length_words(mm, value.units)

    bar = words(value.bar_mm)
    if value.why_not:
        return f"{value.mark}: none from a bar of {bar}: {value.why_not}"
    each = value.piece_mm + value.cut_mm + value.over_mm
    usable = value.bar_mm - value.front_mm - value.tail_mm
    more = f" + {words(value.over_mm)} mitre" if value.over_mm else ""
    if not value.tail_mm:
        usable += value.cut_mm
    ends = f"- {words(value.front_mm)} trim - {words(value.tail_mm)} dead length"
    if not value.tail_mm:
        ends = f"- {words(value.front_mm)} trim + {words(value.cut_mm)}, for the last cut runs out"
    return (
        f"{value.mark}: {many(value.count, 'piece')} from a bar of {bar}; drop"
        f" {words(value.drop_mm)}\n"
        f"  ({bar} {ends}) = {words(usable)};"
        f" each {words(value.piece_mm)} + {words(value.cut_mm)} cut{more} = {words(each)};"
        f" {usable / each:.3f} fit"
    )
