"""What whole bars must cost at least: bars come whole, and must be long enough for the pieces.

A mix of fractions may use a bar and a half. When only a few bars are used, the least sum of whole
bars that is long enough lies far above it, and says that a plan is the best there is.
"""

from typing import Final

from translator.bars.cutting_stock import Problem, Stock

MOST_WAYS: Final = 100_000
"""So many ways to take bars are looked at; beyond it the bound stays as it is."""


def least_cost(problem: Problem, bound: int) -> int:
    """Return the least that bars in whole numbers can cost.

    Args:
        problem: what bars there are, and what must come off them.
        bound: what no plan can cost less than, as known before; never lowered.

    Returns:
        The least cost of a number of bars of each stock, within its limits, that is not below
        the bound and of which all together are as long as the pieces; the bound itself where
        that takes too long to tell, or no such bars exist.
    """
    need = _length(problem)
    stocks = sorted(problem.stocks, key=lambda stock: (stock.cost, stock.capacity))
    ways = 1
    for stock in stocks[1:]:
        ways *= _most(stock, need, bound) - stock.least + 1
        if ways > MOST_WAYS:
            return bound
    if not stocks or any(stock.cost <= 0 or stock.capacity <= 0 for stock in stocks):
        return bound
    best = _least(stocks, need, bound, 0, None)
    return bound if best is None else max(bound, best)


def _least(stocks: list[Stock], need: int, bound: int, spent: int, best: int | None) -> int | None:
    """Return the least cost with what is left to need and to spend; the first stock comes last."""
    if best is not None and spent >= best:
        return best
    own = stocks[-1]
    if len(stocks) == 1:
        number = max(own.least, -(-need // own.capacity), -(-(bound - spent) // own.cost), 0)
        if own.count is not None and number > own.count:
            return best
        cost = spent + number * own.cost
        return cost if best is None or cost < best else best
    for number in range(own.least, _most(own, need, bound - spent) + 1):
        best = _least(
            stocks[:-1], need - number * own.capacity, bound, spent + number * own.cost, best
        )
    return best


def _most(stock: Stock, need: int, bound: int) -> int:
    """Return how many bars of a stock a least cost can use: enough for all, and no more."""
    enough = max(-(-need // stock.capacity), -(-bound // stock.cost), stock.least, 0)
    return enough if stock.count is None else min(enough, max(stock.count, stock.least))


def _length(problem: Problem) -> int:
    """Return the length that all pieces take at least, each as it takes the least."""
    least: dict[int, int] = {}
    for choice in problem.choices:
        share = choice.weight // len(choice.items)
        for item in choice.items:
            least[item] = min(least.get(item, share), share)
    return sum(item.demand * least.get(index, 0) for index, item in enumerate(problem.items))
