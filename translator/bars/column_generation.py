"""Column generation: the best mix of all patterns in fractions, and the bound that it proves.

Only patterns that can make the mix better are ever made: the solver says what a piece of each
item is worth, and the best way to fill a bar at those values is either worth more than the bar
costs, and joins in, or proves that the mix is the best.
"""

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct

from translator.bars.best_patterns import COARSE, Found, Search
from translator.bars.cutting_stock import Problem, Stock, rounded_up
from translator.bars.master import Master, Mix

_BETTER: Final = 1.0 + 1e-9
"""A pattern is worth more than a bar when it is by more than the solver rounds."""

_AT_ONCE: Final = 20
"""Patterns that join in one round at most: each makes the next mix slower."""


class Prices(Struct, frozen=True, kw_only=True):
    """Values of pieces and of scarce bars that no pattern can beat: what proves a bound.

    Attributes:
        values: of a piece of each item.
        scarce: what one more bar of each stock would save.
        bound: what they prove: no plan costs less, penalties included; not rounded up.
    """

    values: tuple[Fraction, ...]
    scarce: tuple[Fraction, ...]
    bound: Fraction


class Generated(Struct, frozen=True, kw_only=True):
    """What column generation ended with.

    Attributes:
        master: all patterns that were made.
        mix: the best mix of them in fractions.
        prices: the best bound and its proof.
        is_finished: whether no pattern can make the mix better.
    """

    master: Master
    mix: Mix
    prices: Prices
    is_finished: bool


def generate(problem: Problem, master: Master, rounds: int) -> Generated:
    """Add patterns to a master until none makes the mix better, at most ``rounds`` times."""
    wanted = [item.demand for item in problem.items]
    searches = [Search(problem, wanted, COARSE), Search(problem, wanted)]
    if searches[0].is_exact:
        searches.pop()
    best: Prices | None = None
    mix = master.mix()
    is_finished = False
    for _ in range(rounds):
        values = [max(0, int(value)) for value in mix.values]
        found = searches[0].best(values, _prices(problem, mix))
        prices = proved(problem, values, found)
        if best is None or prices.bound > best.bound:
            best = prices
        if rounded_up(best.bound, problem.step) >= mix.cost - problem.step * 1e-3:
            is_finished = True
            break
        if _join(master, mix, found):
            mix = master.mix()
            continue
        searches.pop(0)
        if not searches:
            is_finished = True
            break
    if best is None:
        none = (Fraction(0),) * len(problem.items)
        best = Prices(values=none, scarce=(Fraction(0),) * len(problem.stocks), bound=Fraction(0))
    return Generated(master=master, mix=mix, prices=best, is_finished=is_finished)


def _prices(problem: Problem, mix: Mix) -> list[float]:
    """Return what a bar of each stock must be worth to make the mix better."""
    return [
        (stock.cost + scarce) * _BETTER
        for stock, scarce in zip(problem.stocks, mix.scarce, strict=True)
    ]


def _join(master: Master, mix: Mix, found: Sequence[Found]) -> bool:
    """Take the patterns in that are worth most beyond their bars; tell whether one is new."""
    prices = _prices(master.problem, mix)
    gains = [
        (one.value / max(1.0, prices[one.pattern.stock]), one.pattern)
        for one in found
        if one.pattern is not None and one.value > prices[one.pattern.stock]
    ]
    gains.sort(key=lambda gain: (-gain[0], gain[1]))
    new = 0
    for _, pattern in gains:
        new += master.add(pattern)
        if new >= _AT_ONCE:
            break
    return new > 0


def proved(problem: Problem, values: Sequence[int], found: Sequence[Found]) -> Prices:
    """Return the best bound that some values of pieces prove.

    Shrunk or stretched by a factor f, the values are beaten by no pattern of a stock without a
    limit. What a pattern of a limited stock is worth beyond its cost is the price of its
    scarcity, paid for each bar there is; what it falls short is gained for each bar that must
    be used. The bound, f * (values of all pieces) less those prices, is concave in f, so the
    best f is where one of the limits begins to count. (Farley's bound, with limits.)
    """
    whole = sum(value * item.demand for value, item in zip(values, problem.items, strict=True))
    rows = [(one.most, stock) for one, stock in zip(found, problem.stocks, strict=True) if one.most]
    marks = {Fraction(stock.cost, most) for most, stock in rows}
    top = min((Fraction(s.cost, most) for most, s in rows if s.count is None), default=None)
    usable = sorted(mark for mark in marks if top is None or mark <= top) or [Fraction(0)]

    def scarcity(factor: Fraction, most: int, stock: Stock) -> Fraction:
        over = factor * most - stock.cost
        return over if over > 0 or stock.least else Fraction(0)

    def bound(factor: Fraction) -> Fraction:
        paid = Fraction(0)
        for one, stock in zip(found, problem.stocks, strict=True):
            over = scarcity(factor, one.most, stock)
            paid += over * ((stock.count or 0) if over > 0 else stock.least)
        return factor * whole - paid

    factor = _peak(usable, lambda mark: _near(problem, found, whole, float(mark)))
    scarce = tuple(
        scarcity(factor, one.most, stock) for one, stock in zip(found, problem.stocks, strict=True)
    )
    capped = tuple(factor * value for value in values)
    return Prices(values=capped, scarce=scarce, bound=bound(factor))


def _near(problem: Problem, found: Sequence[Found], whole: int, factor: float) -> float:
    """Return nearly the bound that a factor gives, to choose one by; see ``proved``."""
    paid = 0.0
    for one, stock in zip(found, problem.stocks, strict=True):
        over = factor * one.most - stock.cost
        paid += over * ((stock.count or 0) if over > 0.0 else stock.least)
    return factor * whole - paid


def _peak(marks: Sequence[Fraction], height: Callable[[Fraction], float]) -> Fraction:
    """Return the mark at which a concave height is greatest; marks rise."""
    low, high = 0, len(marks) - 1
    while low < high:
        middle = (low + high) // 2
        if height(marks[middle]) <= height(marks[middle + 1]):
            low = middle + 1
        else:
            high = middle
    return marks[low]
