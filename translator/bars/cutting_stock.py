"""The cutting-stock problem as whole numbers: what bars there are, what must come off them.

Lengths are nanometres, the grid of the part model, so that every sum is exact. Costs are whole
numbers too, in a unit that the caller chose.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import gcd
from typing import Literal, NamedTuple

from msgspec import Struct

NM_PER_MM = 1_000_000
"""The grid of lengths is a millionth of a millimetre."""

Method = Literal["optimal", "within-gap", "heuristic"]


def nanometres(mm: float) -> int:
    """Return a length on the grid as a whole number of nanometres."""
    return round(mm * NM_PER_MM)


class Stock(Struct, frozen=True, kw_only=True):
    """Bars that are alike.

    Attributes:
        capacity: length that pieces may take, each with its own allowance for the cut.
        cost: cost of one bar.
        count: how many there are; None = as many as are wanted.
        least: how many a plan has to use; only a branch of the search asks for some.
    """

    capacity: int
    cost: int
    count: int | None = None
    least: int = 0


class Item(Struct, frozen=True, kw_only=True):
    """Pieces that are alike: how many, and what leaving one out costs."""

    demand: int
    penalty: int


class Choice(Struct, frozen=True, kw_only=True):
    """Something that may be put on a bar: one piece, or two that share a mitre cut.

    Attributes:
        weight: length that it takes.
        items: its pieces, by index.
        lays: ways of laying the bar in which it can be made.
        family: index of the charge it needs once on a bar; None = none.
    """

    weight: int
    items: tuple[int, ...]
    lays: frozenset[int] = frozenset({0})
    family: int | None = None


class Problem(Struct, frozen=True, kw_only=True):
    """What bars there are and what must come off them.

    ``charges`` are lengths that a bar pays once for all the choices of a family on it: pieces
    that share their mitre cuts each save the slope of a cut, the first of them does not.
    """

    stocks: tuple[Stock, ...]
    items: tuple[Item, ...]
    choices: tuple[Choice, ...]
    charges: tuple[int, ...] = ()

    @property
    def lays(self) -> tuple[int, ...]:
        """Ways of laying a bar that some choice can be made in."""
        return tuple(sorted({lay for choice in self.choices for lay in choice.lays}))

    @property
    def step(self) -> int:
        """The cost of any plan is a whole multiple of this."""
        return gcd(*(stock.cost for stock in self.stocks)) or 1


class Pattern(NamedTuple):
    """One way to cut a bar: how often each choice is on it, by index; choices rise."""

    stock: int
    lay: int
    picks: tuple[tuple[int, int], ...]


class Solution(Struct, frozen=True, kw_only=True):
    """How often each pattern is cut, in a fixed order, and how good that is.

    Attributes:
        patterns: pattern and how many bars are cut so.
        short: pieces of each item that are on no bar.
        cost: cost of the bars, without penalties.
        bound: no plan that makes the same pieces costs less.
        method: how it was found.
        note: what to say about that; "" for nothing.
    """

    patterns: tuple[tuple[Pattern, int], ...]
    short: tuple[int, ...]
    cost: int
    bound: int
    method: Method
    note: str = ""

    @property
    def gap(self) -> Fraction:
        """How much more than the bound it costs, as a share of the bound."""
        if self.cost <= self.bound:
            return Fraction(0)
        return Fraction(self.cost - self.bound, self.bound) if self.bound else Fraction(1)


def weight_of(problem: Problem, picks: Sequence[tuple[int, int]]) -> int:
    """Return the length that some picks take on a bar, charges and all."""
    families = {problem.choices[choice].family for choice, _ in picks} - {None}
    charged = sum(problem.charges[family] for family in families if family is not None)
    return charged + sum(problem.choices[choice].weight * n for choice, n in picks)


def made_by(problem: Problem, picks: Sequence[tuple[int, int]]) -> dict[int, int]:
    """Return how many pieces of each item some picks make."""
    made: dict[int, int] = {}
    for choice, n in picks:
        for item in problem.choices[choice].items:
            made[item] = made.get(item, 0) + n
    return made


def short_of(problem: Problem, patterns: Mapping[Pattern, int]) -> list[int]:
    """Return how many pieces of each item are still missing."""
    missing = [item.demand for item in problem.items]
    for pattern, times in patterns.items():
        for item, n in made_by(problem, pattern.picks).items():
            missing[item] -= n * times
    return [max(0, count) for count in missing]


def cost_of(problem: Problem, patterns: Mapping[Pattern, int]) -> int:
    """Return the cost of the bars that some patterns take."""
    return sum(problem.stocks[pattern.stock].cost * n for pattern, n in patterns.items())


def rounded_up(cost: Fraction, step: int) -> int:
    """Return the least multiple of a step that is not less than a cost."""
    return -(-cost.numerator // (cost.denominator * step)) * step
