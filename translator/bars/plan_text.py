"""The cutting plan as text: a line for each pattern, what to load, what is left over."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from translator.bars.plan_model import Plan, PlannedBar, PlannedGroup
from translator.bars.text_table import table
from translator.bars.wording import Units, decimal, length_words, many
from translator.findings import CAUTION
from translator.source import printable

_CUTS: Final = {"saw": "sawn, kerf", "slug": "sheared, slug", "single": "sheared, one cut,"}
_METHODS: Final = {
    "optimal": "no better plan exists",
    "within-gap": "proved to within",
    "heuristic": "a good plan, not proved to be near the best: gap",
    "nothing-to-plan": "nothing to cut",
}
_WIDTH: Final = 96


def plan_text(plan: Plan) -> str:
    """Return a plan as text of at most 100 columns."""
    lines = [*_head(plan)]
    for group in plan.groups:
        lines += ["", *_group(plan, group)]
    lines += [*_unplaced(plan), *_second_work(plan), *_remarks(plan)]
    return "\n".join([*(printable(line) for line in lines), "", CAUTION, ""])


def _head(plan: Plan) -> Iterator[str]:
    own, units = plan.options, _units(plan)
    yield f"Cutting plan for {plan.machine}"
    loss = length_words(own.loss_mm, units)
    yield (
        f"{_CUTS.get(own.cut, 'cut,')} {loss}; front trim {length_words(own.front_trim_mm, units)};"
        f" dead length {length_words(own.tail_mm, units)}; remnants from"
        f" {length_words(own.least_remnant_mm, units)}"
    )
    pieces = sum(len(bar.pieces) for bar in plan.bars)
    yield f"{many(len(plan.bars), 'bar')}, {many(pieces, 'piece')}"


def _units(plan: Plan) -> Units:
    inches = sum(group.pieces for group in plan.groups if group.units == "inch")
    return "inch" if 2 * inches > sum(group.pieces for group in plan.groups) else "mm"


def _group(plan: Plan, group: PlannedGroup) -> Iterator[str]:
    bars = [bar for bar in plan.bars if bar.group == group.number]
    grade = f" {group.grade}" if group.grade else ", no grade stated"
    yield f"{group.section}{grade}: {many(len(bars), 'bar')}, {many(group.pieces, 'piece')}"
    if not bars:
        yield "  nothing is cut of it"
        return
    yield from _figures(bars, group, plan.options.remnants)
    rows = []
    for _, same in groupby(bars, key=lambda bar: (bar.pattern, bar.is_remnant)):
        alike = list(same)
        rows.append(_pattern(alike, group.units))
    yield from table(
        ("load", "bars", "length", "pieces from the lead end", "used", "drop"),
        rows,
        numbers=(1, 4),
    )


def _figures(bars: Sequence[PlannedBar], group: PlannedGroup, policy: str) -> Iterator[str]:
    stock = sum(bar.length_mm for bar in bars)
    kept = sum(bar.drop.length_mm for bar in bars if bar.drop.kind == "remnant")
    used = sum(bar.used_mm for bar in bars)
    yield (
        f"  {length_words(stock, group.units)} of bar,"
        f" {decimal(stock / 1000.0 * group.mass_per_metre_kg, 1)} kg;"
        f" {decimal(100.0 * used / stock, 1)} % in pieces,"
        f" {decimal(100.0 * kept / stock, 1)} % in remnants"
    )
    share = any(bar.is_remnant for bar in bars) and policy == "first"
    yield f"  {_proof(group)}{', remnants at a tenth' if share else ''}"
    if group.without_sharing is not None:
        yield f"  {_sharing(group)}"


def _proof(group: PlannedGroup) -> str:
    words = _METHODS[group.method]
    cost, bound = _cost(group, group.cost), _cost(group, group.lower_bound)
    if group.method == "optimal":
        return f"cost {cost}, bound {bound}, gap 0 %: {words}"
    gap = decimal(group.gap_percent, 3)
    note = f" ({group.note})" if group.note else ""
    return f"cost {cost}, bound {bound}: {words} {gap} %{note}"


def _sharing(group: PlannedGroup) -> str:
    without = group.without_sharing or 0.0
    if group.cost >= without:
        return f"shared mitre cuts save nothing: {_cost(group, without)} without them"
    share = 100.0 * (without - group.cost) / without
    return f"shared mitre cuts save {decimal(share, 2)} %: {_cost(group, without)} without them"


def _cost(group: PlannedGroup, value: float) -> str:
    if group.cost_unit == "price":
        return decimal(value, 2)
    return length_words(value, group.units)


def _pattern(bars: Sequence[PlannedBar], units: Units) -> tuple[str, ...]:
    first = bars[0]
    load = _span([bar.number for bar in bars])
    stock = ", ".join(dict.fromkeys("buy" if bar.is_bought else bar.stock for bar in bars))
    used = decimal(100.0 * first.used_mm / first.length_mm, 1)
    return (
        load,
        str(len(bars)),
        f"{length_words(first.length_mm, units)} ({stock})",
        ", ".join(_runs(first)),
        f"{used} %",
        _drop(bars, units),
    )


def _span(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return str(numbers[0])
    is_run = numbers[-1] - numbers[0] == len(numbers) - 1
    return f"{numbers[0]}-{numbers[-1]}" if is_run else ",".join(map(str, numbers))


def _runs(bar: PlannedBar) -> Iterator[str]:
    for (mark, lead), same in groupby(bar.pieces, key=lambda p: (p.mark, p.placement.lead_end)):
        turned = " turned" if lead == "far" else ""
        yield f"{len(list(same))} {mark}{turned}"


def _drop(bars: Sequence[PlannedBar], units: Units) -> str:
    drop = bars[0].drop
    if drop.kind == "none":
        return "nothing"
    if drop.kind == "scrap":
        return f"{length_words(drop.length_mm, units)} scrap"
    labels = [bar.drop.label for bar in bars]
    span = labels[0] if len(labels) == 1 else f"{labels[0]} to {labels[-1]}"
    return f"{length_words(drop.length_mm, units)} = {span}"


def _unplaced(plan: Plan) -> Iterator[str]:
    if not plan.unplaced:
        return
    missing = sum(line.count for line in plan.unplaced)
    yield ""
    yield f"On no bar: {many(missing, 'piece')}"
    for line in plan.unplaced:
        yield from _wrapped(f"  {line.count} {line.mark}: {line.why}")


def _second_work(plan: Plan) -> Iterator[str]:
    work = [mark for mark in plan.marks if mark.second_work and mark.planned]
    if not work:
        return
    yield ""
    yield "After the machine"
    for mark in work:
        yield from _wrapped(f"  {mark.mark}: {', '.join(mark.second_work)}")


def _remarks(plan: Plan) -> Iterator[str]:
    left = [line for line in plan.left if line.is_remnant]
    kept = sum(bar.drop.kind == "remnant" for bar in plan.bars)
    yield from _to_buy(plan)
    yield ""
    yield (
        f"Left in stock: {many(len(left), 'remnant')}, {kept} of them new;"
        f" {many(len(plan.left) - len(left), 'line')} of bars"
    )
    for remark in plan.remarks:
        yield from _wrapped(remark)


def _to_buy(plan: Plan) -> Iterator[str]:
    """Yield the bars that are not on hand, by section and length."""
    units = {group.number: group.units for group in plan.groups}
    wanted = Counter(
        (bar.section, bar.grade or "", bar.length_mm, units[bar.group])
        for bar in plan.bars
        if bar.is_bought
    )
    if not wanted:
        return
    yield ""
    yield "To buy"
    for (section, grade, length, own), count in wanted.items():
        name = f"{section} {grade}".rstrip()
        yield f"  {count} x {length_words(length, own)} {name}"


def _wrapped(text: str) -> Iterator[str]:
    """Yield a sentence in lines that fit, those after the first set in."""
    indent = text[: len(text) - len(text.lstrip())]
    line = indent
    for word in text.split():
        if len(line) + len(word) + 1 > _WIDTH and line.strip():
            yield line
            line = f"{indent}    {word}"
        else:
            line = f"{line} {word}" if line.strip() else f"{indent}{word}"
    yield line
