"""The order of loading: bars numbered, their pieces counted, their drops labelled."""

from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct

from translator.bars.bar_layout import Laid, planned_pieces
from translator.bars.cutting_stock import NM_PER_MM, Solution, nanometres
from translator.bars.plan_model import Drop, PlannedBar, PlanOptions
from translator.bars.plan_problem import Member, Numbers

Key = tuple[str, str]
"""Section and grade."""


class GroupPlan(Struct, frozen=True, kw_only=True):
    """What was planned of one section and grade."""

    key: Key
    members: tuple[Member, ...]
    numbers: Numbers
    solution: Solution
    bars: tuple[Laid, ...]
    short: tuple[tuple[Member, int], ...]
    without: int | None


def loaded(
    planned: Sequence[GroupPlan], options: PlanOptions, ids: set[str]
) -> Iterator[PlannedBar]:
    """Yield the bars in the order of loading: by section, then what presses most."""
    number = 0
    labels = _labels(ids)
    index: Counter[int] = Counter()
    for place, group in enumerate(planned, start=1):
        patterns: dict[object, int] = {}
        counts: Counter[object] = Counter(_alike(bar) for bar in group.bars)
        for bar in sorted(group.bars, key=lambda b: _loading(b, counts[_alike(b)])):
            number += 1
            pattern = patterns.setdefault(_alike(bar), len(patterns) + 1)
            numbered = []
            for piece in bar.pieces:
                index[id(piece.member)] += 1
                short = {id(m): n for m, n in group.short}.get(id(piece.member), 0)
                count = piece.member.demand.count - short
                numbered.append((index[id(piece.member)], count))
            yield PlannedBar(
                number=number,
                group=place,
                pattern=pattern,
                stock=bar.line.id,
                is_remnant=bar.line.is_remnant,
                is_bought=bar.line.count is None,
                length_mm=bar.line.length_mm,
                heat=bar.line.heat,
                certificate=bar.line.certificate,
                location=bar.line.location,
                lead_end="unmarked" if bar.line.heat else "either",
                section=group.key[0],
                grade=group.key[1] or None,
                heel=bar.lay[0],
                long_leg=bar.lay[1],
                front_trim_mm=options.front_trim_mm,
                pieces=planned_pieces(bar, numbered),
                cuts=bar.cuts,
                tail_mm=options.tail_mm,
                drop=_drop(bar, options, labels),
            )


def _alike(bar: Laid) -> tuple[object, ...]:
    """Return what bars that are cut alike have in common."""
    pieces = tuple(
        (p.member.demand.part.order, p.member.demand.part.mark, p.lie.placement, lead)
        for p, lead in zip(bar.pieces, bar.leads, strict=True)
    )
    return bar.line.is_remnant, bar.line.length_mm, pieces


def _loading(bar: Laid, alike: int) -> tuple[object, ...]:
    presses = max(piece.member.demand.progress.priority for piece in bar.pieces)
    pieces = [(p.member.demand.part.order or "", p.member.demand.part.mark) for p in bar.pieces]
    return (
        -presses,
        not bar.line.is_remnant,
        -bar.line.length_mm,
        -alike,
        _rest(bar),
        pieces,
        bar.leads,
        bar.line.id,
    )


def _rest(bar: Laid) -> int:
    """Return what is left of a bar, nanometres: full bars are loaded before one cut in part."""
    return max(0, nanometres(bar.line.length_mm) - bar.end)


def _labels(ids: set[str]) -> Iterator[str]:
    """Yield labels for remnants, none of which is in the stock list already."""
    number = 0
    while True:
        number += 1
        if f"R{number}" not in ids:
            yield f"R{number}"


def _drop(bar: Laid, options: PlanOptions, labels: Iterator[str]) -> Drop:
    left = _rest(bar)
    if not left:
        return Drop(length_mm=0.0, kind="none")
    if left < nanometres(options.least_remnant_mm):
        return Drop(length_mm=left / NM_PER_MM, kind="scrap", is_square=bar.is_square)
    return Drop(
        length_mm=left / NM_PER_MM, kind="remnant", label=next(labels), is_square=bar.is_square
    )
