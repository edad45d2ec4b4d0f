"""The cutting plan: pieces and stock in, bars in the order of loading out."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from msgspec.structs import replace

from translator.bars.bar_layout import bars_of
from translator.bars.demand import Demand
from translator.bars.fingerprint import fingerprint
from translator.bars.lies import Able, able
from translator.bars.loading import GroupPlan, Key, loaded
from translator.bars.plan_model import (
    Plan,
    PlannedBar,
    PlannedGroup,
    PlannedMark,
    PlanOptions,
    StockLine,
    Unplaced,
)
from translator.bars.plan_problem import Member, cost_shown, numbers_of, plain
from translator.bars.plan_terms import Terms, options_of
from translator.bars.solve import Effort, solve
from translator.bars.stock import grade_key, section_key
from translator.geometry.mass import mass_per_metre_kg
from translator.machines.profile import Machine
from translator.machines.reasons import decimal
from translator.source import printable

MOST_REMNANTS: Final = 300
"""Remnants of one section and grade that a plan looks at; each is a choice of its own."""


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
    bars = tuple(loaded(planned, options, {line.id for line in stock}))
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
            "why": printable(why),
        }
    )


def _usable(
    stock: Sequence[StockLine], key: Key, machine: Machine, options: PlanOptions
) -> tuple[StockLine, ...]:
    """Return the lines that a group may be cut from: of very many remnants the longest."""
    own = [
        line
        for line in stock
        if (line.section, grade_key(line.grade)) == key
        and line.count != 0
        and machine.stock_length.holds(line.length_mm)
        and not (line.is_remnant and options.remnants == "keep")
    ]
    remnants = [line for line in own if line.is_remnant]
    kept = {line.id for line in sorted(remnants, key=_longest_first)[:MOST_REMNANTS]}
    return tuple(line for line in own if not line.is_remnant or line.id in kept)


def _longest_first(line: StockLine) -> tuple[float, str]:
    return -line.length_mm, line.id


def _planned(
    key: Key,
    members: Sequence[Member],
    lines: Sequence[StockLine],
    options: PlanOptions,
    effort: Effort,
) -> GroupPlan:
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
    bars, short = bars_of(numbers, solution.patterns, options)
    return GroupPlan(
        key=key,
        members=tuple(members),
        numbers=numbers,
        solution=solution,
        bars=bars,
        short=short,
        without=without,
    )


def _no_stock(group: GroupPlan) -> str:
    section, grade = group.key
    what = f"{section} in {grade}" if grade else f"{section} without a grade"
    if not group.numbers.lines:
        return f"there is no bar of {what} in stock that the machine takes"
    return f"no bar of {what} is left that it fits"


def _group(number: int, group: GroupPlan, bars: Sequence[PlannedBar]) -> PlannedGroup:
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
    planned: Sequence[GroupPlan],
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
    stock: Sequence[StockLine], planned: Sequence[GroupPlan], machine: Machine, options: PlanOptions
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
    remnants = Counter((i.section, grade_key(i.grade)) for i in stock if i.is_remnant)
    for key in sorted(keys):
        if remnants[key] > MOST_REMNANTS:
            yield (
                f"of the {remnants[key]} remnants of {key[0]} the {MOST_REMNANTS} longest are"
                " looked at"
            )
    if options.remnants == "first" and any(
        line.is_remnant for line in stock if (line.section, grade_key(line.grade)) in keys
    ):
        yield "remnants count a tenth of new steel in the cost, so that they are used first"
    if any(group.without is not None for group in planned):
        yield (
            "shared mitre cuts are planned in rows of parallel pieces and in pairs; the bound is"
            " that of plans made so"
        )
    if machine.assumed_grade is not None and any(
        m.demand.part.grade is None for group in planned for m in group.members
    ):
        yield f"parts without a grade are planned as {machine.assumed_grade}"
