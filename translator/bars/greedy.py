"""Plans made bar by bar: the pattern that gives most for its bar's cost comes next.

Used to make whole bars of a mix in fractions, and alone where nothing better can be had.
"""

from collections.abc import Mapping, Sequence

from translator.bars.best_patterns import Search
from translator.bars.cutting_stock import Pattern, Problem, made_by, short_of
from translator.bars.master import Mix


def by_weight(problem: Problem) -> tuple[int, ...]:
    """Return the length of each item's pieces as its value: the fullest bar is then the best."""
    weights = [0] * len(problem.items)
    for choice in problem.choices:
        for item in choice.items if len(choice.items) == 1 else ():
            charge = 0 if choice.family is None else problem.charges[choice.family]
            weights[item] = choice.weight + charge
    return tuple(weights)


def filled(
    problem: Problem, begun: Mapping[Pattern, int], values: Sequence[int]
) -> dict[Pattern, int]:
    """Go on with a plan until nothing is wanted any more, or no bar is left.

    Args:
        problem: what is wanted in all.
        begun: the plan so far.
        values: what a piece of each item is worth.

    Returns:
        The whole plan. Pieces that fit no bar are left out.
    """
    plan = dict(begun)
    wanted = short_of(problem, plan)
    free = _free(problem, plan)
    while any(wanted):
        best = Search(problem, wanted).cheapest(values, free)
        if best is None:
            break
        made = made_by(problem, best.picks)
        times = min(wanted[item] // n for item, n in made.items())
        left = free[best.stock]
        times = max(1, times if left is None else min(times, left))
        plan[best] = plan.get(best, 0) + times
        if left is not None:
            free[best.stock] = left - times
        for item, n in made.items():
            wanted[item] = max(0, wanted[item] - n * times)
    return plan


def rounded(
    problem: Problem, patterns: Sequence[Pattern], mix: Mix, up_from: float
) -> dict[Pattern, int]:
    """Return a mix in whole bars: each use rounded down, or up from a fraction on.

    Up only as long as that makes no piece that nobody wants, fullest fractions first.
    """
    plan = {p: int(use + 1e-9) for p, use in zip(patterns, mix.uses, strict=True)}
    wanted = short_of(problem, plan)
    free = _free(problem, plan)
    parts = [(use - plan[p], p) for p, use in zip(patterns, mix.uses, strict=True)]
    for part, pattern in sorted(parts, key=lambda item: (-item[0], item[1])):
        if part < up_from or part < 1e-6:  # noqa: PLR2004 - the solver's rounding
            break
        made = made_by(problem, pattern.picks)
        left = free[pattern.stock]
        if left == 0 or any(wanted[item] < n for item, n in made.items()):
            continue
        plan[pattern] += 1
        free[pattern.stock] = None if left is None else left - 1
        for item, n in made.items():
            wanted[item] -= n
    return {pattern: times for pattern, times in plan.items() if times}


def _free(problem: Problem, plan: Mapping[Pattern, int]) -> list[int | None]:
    free = [stock.count for stock in problem.stocks]
    for pattern, times in plan.items():
        left = free[pattern.stock]
        if left is not None:
            free[pattern.stock] = max(0, left - times)
    return free
