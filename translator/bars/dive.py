"""Whole bars from a mix in fractions, a few at a time: fix some, generate anew for the rest."""

from collections.abc import Sequence
from typing import Final

from msgspec.structs import replace

from translator.bars.column_generation import Generated, generate
from translator.bars.cutting_stock import Pattern, Problem, made_by, short_of
from translator.bars.master import Master, Mix

_SURE: Final = 0.9
"""A use in fractions that is rounded up beside the surest one."""

_ROUNDING: Final = 1e-6


def dive(problem: Problem, generated: Generated, rounds: int) -> dict[Pattern, int]:
    """Return a plan in whole bars that follows the mix as far as it can.

    Each step takes what the mix uses in whole bars, and the pattern whose use is nearest to one
    more; what is still wanted is mixed again, with new patterns where they help.
    """
    plan: dict[Pattern, int] = {}
    patterns, mix, rest = generated.master.patterns, generated.mix, problem
    while True:
        fixed = _fixed(rest, patterns, mix)
        if not fixed:
            return plan
        for pattern, times in fixed.items():
            plan[pattern] = plan.get(pattern, 0) + times
        rest = remaining(rest, fixed)
        if not any(item.demand for item in rest.items):
            return plan
        master = Master(rest)
        for pattern in patterns:
            if _is_proper(rest, pattern):
                master.add(pattern)
        again = generate(rest, master, rounds)
        patterns, mix = again.master.patterns, again.mix


def remaining(problem: Problem, plan: dict[Pattern, int]) -> Problem:
    """Return the problem that is left once some bars are cut."""
    used = [0] * len(problem.stocks)
    for pattern, times in plan.items():
        used[pattern.stock] += times
    short = short_of(problem, plan)
    return replace(
        problem,
        stocks=tuple(
            replace(stock, least=0, count=None if stock.count is None else max(0, stock.count - n))
            for stock, n in zip(problem.stocks, used, strict=True)
        ),
        items=tuple(replace(item, demand=n) for item, n in zip(problem.items, short, strict=True)),
    )


def _is_proper(problem: Problem, pattern: Pattern) -> bool:
    """Tell whether a pattern makes no piece that nobody wants, and has a bar left."""
    if problem.stocks[pattern.stock].count == 0:
        return False
    made = made_by(problem, pattern.picks)
    return all(problem.items[item].demand >= n for item, n in made.items())


def _fixed(problem: Problem, patterns: Sequence[Pattern], mix: Mix) -> dict[Pattern, int]:
    """Return the bars to fix next: whole uses, and the surest of the others rounded up."""
    plan: dict[Pattern, int] = {}
    parts: list[tuple[float, Pattern]] = []
    for pattern, use in zip(patterns, mix.uses, strict=True):
        times = int(use + _ROUNDING)
        if not pattern.picks:
            continue
        if times:
            plan[pattern] = times
        if use - times > _ROUNDING:
            parts.append((use - times, pattern))
    parts.sort(key=lambda item: (-round(item[0], 9), item[1]))
    rest = remaining(problem, plan)
    taken = 0
    for part, pattern in parts:
        if taken and part < _SURE:
            break
        if _is_proper(rest, pattern):
            plan[pattern] = plan.get(pattern, 0) + 1
            rest = remaining(rest, {pattern: 1})
            taken += 1
    return plan
