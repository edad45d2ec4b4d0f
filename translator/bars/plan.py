"""The cutting plan: pieces and stock in, bars in the order of loading out."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from translator.bars.bar_layout import Laid, bars_of, planned_pieces
from translator.bars.cutting_stock import NM_PER_MM, Solution, nanometres
from translator.bars.demand import Demand
from translator.bars.fingerprint import fingerprint
from translator.bars.lies import Able, able
from translator.bars.plan_model import (
    Drop,
    Plan,
    PlannedBar,
    PlannedGroup,
    PlannedMark,
    PlanOptions,
    StockLine,
    Unplaced,
)
from translator.bars.plan_problem import Member, Numbers, cost_shown, numbers_of, plain
from translator.bars.plan_terms import Terms, options_of
from translator.bars.solve import Effort, solve
from translator.bars.stock import grade_key, section_key
from translator.geometry.mass import mass_per_metre_kg
from translator.machines.profile import Machine
from translator.machines.reasons import decimal

Key = tuple[str, str]
"""Section and grade."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Group:
    """What was planned of one section and grade."""

    key: Key
    members: tuple[Member, ...]
    numbers: Numbers
    solution: Solution
    bars: tuple[Laid, ...]
    short: tuple[tuple[Member, int], ...]
    without: int | None


def plan_bars(
    demands: Sequence[Demand],
    stock: Sequence[StockLine],
    machine: Machine,
    terms: Terms | None = None,
    unplaced: Iterable[Unplaced] = (),
) -> Plan:
    """Plan the bars of an order; the same input gives the same plan.

    Args:
        demands: what is wanted of each mark.
        stock: bars and remnants on hand, and lengths that can be bought.
        machine: what the bars are cut on.
        terms: what the shop asked for.
        unplaced: pieces that were left out before, and why.

    Raises:
        WorkError: when the machine cuts nothing off, or the solver is not installed.
    """
    terms = terms or Terms()
    options = options_of(machine, terms)
    abilities = {id(demand): able(machine, demand.placed) for demand in demands}
    out = list(unplaced)
    groups: dict[Key, list[Member]] = {}
    for demand in demands:
        own = abilities[id(demand)]
        if demand.count and not own.lies:
            out.append(_unplaced(demand, demand.count, "machine", own.capability.why))
        elif demand.count:
            groups.setdefault(_key(demand, machine), []).append(Member(demand=demand, able=own))
    planned = [
        _planned(key, members, _usable(stock, key, machine, options), options, terms.effort)
        for key, members in sorted(groups.items())
    ]
    for group in planned:
        out += [_unplaced(m.demand, n, "stock", _no_stock(group)) for m, n in group.short]
    bars = tuple(_numbered(planned, options, {line.id for line in stock}))
    return Plan(
        machine=machine.name,
        options=options,
        groups=tuple(_group(i, g, bars) for i, g in enumerate(planned, start=1)),
        marks=tuple(_marks(demands, abilities, planned, bars)),
        bars=bars,
        unplaced=tuple(out),
        left=tuple(_left(stock, bars)),
        remarks=tuple(_remarks(stock, planned, machine, options)),
    )


def _key(demand: Demand, machine: Machine) -> Key:
    grade = demand.part.grade or machine.assumed_grade
    return section_key(demand.part.section), grade_key(grade)


def _unplaced(demand: Demand, count: int, kind: str, why: str) -> Unplaced:
    return Unplaced.model_validate(
        {
            "order": demand.part.order,
            "mark": demand.part.mark,
            "source": demand.source,
            "count": count,
            "kind": kind,
            "why": why,
        }
    )


def _usable(
    stock: Sequence[StockLine], key: Key, machine: Machine, options: PlanOptions
) -> tuple[StockLine, ...]:
    return tuple(
        line
        for line in stock
        if (line.section, grade_key(line.grade)) == key
        and line.count != 0
        and machine.stock_length.holds(line.length_mm)
        and not (line.is_remnant and options.remnants == "keep")
    )


def _planned(
    key: Key,
    members: Sequence[Member],
    lines: Sequence[StockLine],
    options: PlanOptions,
    effort: Effort,
) -> _Group:
    numbers = numbers_of(members, lines, options)
    without = None
    if options.shared_mitres and any(
        len(c.items) > 1 or c.family is not None for c in numbers.problem.choices
    ):
        alone = plain(numbers)
        known = solve(alone.problem, effort)
        without = known.cost
        shared = solve(numbers.problem, effort)
        is_better = (sum(shared.short), shared.cost) < (sum(known.short), known.cost)
        solution = shared if is_better else replace(known, bound=min(shared.bound, known.cost))
        numbers = numbers if is_better else alone
    else:
        solution = solve(numbers.problem, effort)
        without = solution.cost if options.shared_mitres else None
    bars, short = bars_of(numbers, solution.patterns, options)
    return _Group(
        key=key,
        members=tuple(members),
        numbers=numbers,
        solution=solution,
        bars=bars,
        short=short,
        without=without,
    )


def _no_stock(group: _Group) -> str:
    section, grade = group.key
    what = f"{section} in {grade}" if grade else f"{section} without a grade"
    if not group.numbers.lines:
        return f"there is no bar of {what} in stock that the machine takes"
    return f"no bar of {what} is left that it fits"


def _numbered(
    planned: Sequence[_Group], options: PlanOptions, ids: set[str]
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


def _group(number: int, group: _Group, bars: Sequence[PlannedBar]) -> PlannedGroup:
    own = [bar for bar in bars if bar.group == number]
    solution, priced = group.solution, group.numbers.is_priced
    part = group.members[0].demand.part
    inches = sum(m.demand.part.units == "inch" for m in group.members)
    return PlannedGroup(
        number=number,
        section=group.key[0],
        grade=group.key[1] or None,
        units="inch" if 2 * inches >= len(group.members) else "mm",
        mass_per_metre_kg=mass_per_metre_kg(part.section),
        pieces=sum(len(bar.pieces) for bar in own),
        bars=len(own),
        patterns=len({bar.pattern for bar in own}),
        stock_mm=round(sum(bar.length_mm for bar in own), 6),
        pieces_mm=round(sum(bar.used_mm for bar in own), 6),
        cost_unit="price" if priced else "mm",
        cost=cost_shown(solution.cost, is_priced=priced),
        lower_bound=cost_shown(solution.bound, is_priced=priced),
        gap_percent=round(float(solution.gap) * 100.0, 4),
        method=solution.method if own else "nothing-to-plan",
        note=solution.note,
        without_sharing=None
        if group.without is None
        else cost_shown(group.without, is_priced=priced),
    )


def _marks(
    demands: Sequence[Demand],
    abilities: Mapping[int, Able],
    planned: Sequence[_Group],
    bars: Sequence[PlannedBar],
) -> Iterator[PlannedMark]:
    groups = {id(m.demand): i for i, g in enumerate(planned, start=1) for m in g.members}
    made = Counter((p.source, p.order, p.mark) for bar in bars for p in bar.pieces)
    for demand in demands:
        part, progress = demand.part, demand.progress
        yield PlannedMark(
            order=part.order,
            mark=part.mark,
            revision=part.revision,
            title=part.title,
            source=demand.source,
            group=groups.get(id(demand)),
            length_mm=part.length_mm,
            quantity=part.quantity,
            done=progress.done,
            recut=progress.recut,
            planned=made[demand.source, part.order, part.mark],
            phase=part.phase,
            lot=part.lot,
            priority=progress.priority,
            fingerprint=fingerprint(part),
            second_work=abilities[id(demand)].capability.second_work,
        )


def _left(stock: Sequence[StockLine], bars: Sequence[PlannedBar]) -> Iterator[StockLine]:
    """Yield the stock that will be left: lines less what is loaded, and new remnants."""
    used = Counter(bar.stock for bar in bars)
    for line in stock:
        if line.count is None:
            yield line
        elif line.count > used[line.id]:
            yield line.model_copy(update={"count": line.count - used[line.id]})
    for bar in bars:
        if bar.drop.kind == "remnant":
            yield StockLine(
                id=bar.drop.label,
                section=bar.section,
                grade=bar.grade,
                length_mm=bar.drop.length_mm,
                count=1,
                is_remnant=True,
                heat=bar.heat,
                certificate=bar.certificate,
                location=bar.location,
            )


def _remarks(
    stock: Sequence[StockLine], planned: Sequence[_Group], machine: Machine, options: PlanOptions
) -> Iterator[str]:
    keys = {group.key for group in planned}
    for line in stock:
        if (line.section, grade_key(line.grade)) not in keys or line.count == 0:
            continue
        if not machine.stock_length.holds(line.length_mm):
            yield (
                f"not used: {line.id}, {decimal(line.length_mm, 3)} mm of {line.section}, which"
                f" {machine.name} does not take"
            )
    if options.remnants == "first":
        yield "remnants count a tenth of new steel in the cost, so that they are used first"
    if machine.assumed_grade is not None and any(
        m.demand.part.grade is None for group in planned for m in group.members
    ):
        yield f"parts without a grade are planned as {machine.assumed_grade}"
