"""Branching on how many bars of a stock are used: what lifts a bound that fractions leave low.

In a mix of fractions a long bar may be used two and a half times. Asking for at most two, or for
at least three, leaves the pieces and patterns as they are, and each half is mixed again.
"""

from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.bars.column_generation import Generated, generate
from translator.bars.cutting_stock import Pattern, Problem, Stock, rounded_up
from translator.bars.master import Master
from translator.bars.whole_bars import least_cost

_WHOLE: Final = 1e-5
"""A number of bars nearer than this to a whole one is whole."""


class Node(Struct, frozen=True, kw_only=True):
    """A part of all plans: those that use bars within the limits of its problem."""

    problem: Problem
    generated: Generated
    bound: int


def root(problem: Problem, generated: Generated) -> Node:
    """Return the node of all plans."""
    bound = least_cost(problem, rounded_up(generated.prices.bound, problem.step))
    return Node(problem=problem, generated=generated, bound=bound)


def split(node: Node, rounds: int) -> tuple[Node, ...]:
    """Part a node in two; nothing when it uses whole numbers of bars of each stock already."""
    stock = _fraction(node)
    if stock is None:
        return ()
    used = _used(node)[stock]
    fewer, more = int(used), int(used) + 1
    own = node.problem.stocks[stock]
    halves = (replace(own, count=fewer), replace(own, least=more))
    return tuple(_child(node, stock, half, rounds) for half in halves)


def _child(node: Node, stock: int, limited: Stock, rounds: int) -> Node:
    stocks = list(node.problem.stocks)
    stocks[stock] = limited
    problem = replace(node.problem, stocks=tuple(stocks))
    master = Master(problem)
    for pattern in node.generated.master.patterns:
        if pattern.picks:
            master.add(pattern)
    generated = generate(problem, master, rounds)
    bound = max(node.bound, rounded_up(generated.prices.bound, problem.step))
    bound = least_cost(problem, bound)
    return Node(problem=problem, generated=generated, bound=bound)


def _used(node: Node) -> list[float]:
    used = [0.0] * len(node.problem.stocks)
    mix = node.generated.mix
    pattern: Pattern
    for pattern, use in zip(node.generated.master.patterns, mix.uses, strict=True):
        used[pattern.stock] += use
    return used


def _fraction(node: Node) -> int | None:
    """Return the stock of which the mix uses the least whole number of bars."""
    best, worst = None, _WHOLE
    for index, used in enumerate(_used(node)):
        part = min(used - int(used), int(used) + 1 - used)
        if part > worst:
            best, worst = index, part
    return best
