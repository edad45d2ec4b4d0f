"""Solve a cutting-stock problem: a plan, what none can cost less than, and how that is known."""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Final

from msgspec import Struct, field
from msgspec.structs import replace

from translator.bars.branch import Node, root, split
from translator.bars.closing import Room, within_gap
from translator.bars.column_generation import Generated, generate
from translator.bars.cutting_stock import (
    Item,
    Method,
    Pattern,
    Problem,
    Solution,
    cost_of,
    short_of,
)
from translator.bars.dive import dive
from translator.bars.every_way import every_way
from translator.bars.greedy import by_weight, filled, rounded
from translator.bars.improve import improved
from translator.bars.master import Master

SMALL_GAP: Final = Fraction(1, 100)
"""A gap under 1 % is what a plan is expected to prove at least."""

LARGE: Final = 60
"""Kinds of pieces of a group from which on less is tried to close a small gap."""

_DIVES: Final = 2000
"""Size of a problem up to which a plan is fixed a few bars at a time."""

_EASY: Final = 250
"""Size of a problem up to which the whole effort goes into branches."""


class Effort(Struct, frozen=True, kw_only=True):
    """How much work may go into one group, in counts: no clock, so the answer repeats.

    Attributes:
        rounds: rounds of column generation.
        room: patterns that may be listed to close a gap.
        steps: bars that may be tried while every way is looked at.
        branches: times that the plans are parted by how many bars of a stock they use.
        tries: times that a few bars are planned anew, while the gap is no small one.
        good_enough: gap below which no more is tried.
        large_enough: the same for a group of more than ``LARGE`` kinds of pieces.
    """

    rounds: int = 3000
    room: Room = field(default_factory=lambda: Room(steps=300_000, patterns=3000))
    steps: int = 6000
    branches: int = 40
    tries: int = 12
    good_enough: Fraction = Fraction(1, 2000)
    large_enough: Fraction = Fraction(1, 400)


class _Best:
    """The best plan so far and what it costs, penalties for missing pieces included."""

    def __init__(self, problem: Problem, plan: dict[Pattern, int]) -> None:
        self.problem = problem
        self.plan = plan
        self.cost = _whole_cost(problem, plan)

    def take(self, plan: Mapping[Pattern, int]) -> None:
        cost = _whole_cost(self.problem, plan)
        if cost < self.cost:
            self.plan, self.cost = dict(plan), cost


def solve(problem: Problem, effort: Effort | None = None) -> Solution:
    """Return the best plan that the effort finds.

    Where bars run short, pieces of least penalty are left out, and the bound is that of the
    pieces that are made.
    """
    effort = effort or Effort()
    if not any(item.demand for item in problem.items) or not problem.stocks:
        missing = tuple(item.demand for item in problem.items)
        return Solution(patterns=(), short=missing, cost=0, bound=0, method="optimal")
    best, bound, note = _planned(problem, effort)
    short = tuple(short_of(problem, best.plan))
    if any(short):
        made = replace(problem, items=_without(problem, short))
        again, bound, note = _planned(made, effort, best.plan)
        if not any(short_of(made, again.plan)):
            best = again
    cost = cost_of(problem, best.plan)
    bound = min(bound, cost)
    return Solution(
        patterns=tuple(sorted(best.plan.items())),
        short=short,
        cost=cost,
        bound=bound,
        method=_method(cost, bound),
        note=note,
    )


def _method(cost: int, bound: int) -> Method:
    if cost <= bound:
        return "optimal"
    return "within-gap" if cost - bound < SMALL_GAP * bound else "heuristic"


def _without(problem: Problem, short: tuple[int, ...]) -> tuple[Item, ...]:
    return tuple(
        replace(item, demand=item.demand - missing)
        for item, missing in zip(problem.items, short, strict=True)
    )


def _planned(
    problem: Problem, effort: Effort, known: Mapping[Pattern, int] | None = None
) -> tuple[_Best, int, str]:
    """Return the best plan, the bound, and a note where the work was cut short."""
    greedy = filled(problem, {}, by_weight(problem))
    best = _Best(problem, greedy)
    master = Master(problem)
    for pattern in sorted({**greedy, **(known or {})}):
        master.add(pattern)
    if known:
        best.take(known)
    generated = generate(problem, master, effort.rounds)
    node = root(problem, generated)
    for plan in _whole_plans(problem, generated):
        best.take(plan)
        if _is_close(best, node.bound, effort):
            break
    if not generated.is_finished:
        return best, node.bound, f"stopped after {effort.rounds} rounds of new patterns"
    if _is_close(best, node.bound, effort):
        return best, node.bound, ""
    return best, *_closed(node, best, effort)


def _is_close(best: _Best, bound: int, effort: Effort) -> bool:
    """Tell whether a plan is near enough to its bound to leave it; large ones sooner."""
    is_large = len(best.problem.items) > LARGE
    enough = effort.large_enough if is_large else effort.good_enough
    return best.cost - bound <= enough * bound


def _size(problem: Problem) -> int:
    """Return how much work a step of a problem is: kinds of pieces times kinds of bars."""
    return len(problem.items) * len(problem.stocks)


def _branches(effort: Effort, problem: Problem) -> int:
    """Return how many branches a problem gets: fewer where each is more work."""
    return max(1, effort.branches * _EASY // max(_EASY, _size(problem)))


def _whole_plans(problem: Problem, generated: Generated) -> Iterator[dict[Pattern, int]]:
    """Yield plans in whole bars made from the mix in fractions."""
    patterns, mix = generated.master.patterns, generated.mix
    duals = [max(0, int(value)) for value in mix.values]
    for values in (by_weight(problem), duals):
        for up_from in (1.1, 0.5, 0.0):
            begun = rounded(problem, patterns, mix, up_from)
            yield filled(problem, begun, values)
    if _size(problem) <= _DIVES:
        yield filled(problem, dive(problem, generated, 60), duals)


def _closed(node: Node, best: _Best, effort: Effort) -> tuple[int, str]:
    """Make the gap smaller by every means; return the bound then, and a note."""
    problem, prices = node.problem, node.generated.prices
    is_plain = not problem.charges and all(len(choice.items) == 1 for choice in problem.choices)
    if is_plain:
        listed = within_gap(problem, prices, best.cost, effort.room)
        if listed is not None:
            outright = every_way(problem, listed, prices, best.cost, effort.steps)
            best.take(outright.plan or best.plan)
            if outright.is_whole:
                return best.cost, ""
    bound = _branched(node, best, effort)
    is_wide = best.cost - bound >= SMALL_GAP * bound
    if is_plain and is_wide and not any(short_of(problem, best.plan)):
        best.take(improved(problem, best.plan, prices, bound, effort.tries))
    if best.cost <= bound:
        return bound, ""
    return bound, f"the search ended after at most {_branches(effort, problem)} branches"


def _branched(first: Node, best: _Best, effort: Effort) -> int:
    """Part the plans by how many bars they use of a stock; return the bound of them all."""
    nodes, ended = [first], best.cost
    for _ in range(_branches(effort, best.problem)):
        nodes = [node for node in nodes if node.bound < best.cost]
        if not nodes or ended <= min(node.bound for node in nodes):
            break
        node = min(nodes, key=lambda one: one.bound)
        nodes.remove(node)
        halves = split(node, effort.rounds // 10)
        if not halves:
            ended = min(ended, node.bound)
        for half in halves:
            if half.bound >= best.cost:
                continue
            nodes.append(half)
            for plan in _whole_plans(half.problem, half.generated):
                best.take({pattern: n for pattern, n in plan.items() if pattern.picks})
                if best.cost <= half.bound:
                    break
    return min([best.cost, ended, *(node.bound for node in nodes)])


def _whole_cost(problem: Problem, plan: Mapping[Pattern, int]) -> int:
    short = short_of(problem, plan)
    penalties = sum(n * item.penalty for n, item in zip(short, problem.items, strict=True))
    return cost_of(problem, plan) + penalties
