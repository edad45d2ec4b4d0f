"""Closing the gap: all patterns that a cheaper plan could hold, and the best mix of them.

A plan cheaper than the one at hand can hold no pattern that falls further short of paying for
its bar, at the prices that prove the bound, than the gap between bound and plan is wide. Those
that remain are often few enough to be listed, and the solver then finds the best plan of all.
"""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

from msgspec import Struct

from translator.bars.best_patterns import Search
from translator.bars.column_generation import Prices
from translator.bars.cutting_stock import Pattern, Problem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Room(Struct, frozen=True, kw_only=True):
    """How much may be looked at before the list is given up: counts, so that it is repeatable."""

    steps: int
    patterns: int


def within_gap(problem: Problem, prices: Prices, known: int, room: Room) -> list[Pattern] | None:
    """List the patterns that a plan cheaper than ``known`` may be made of.

    Args:
        problem: what is wanted; without families or pairs.
        prices: what proves the bound.
        known: cost of the plan at hand, penalties included.
        room: how much may be looked at.

    Returns:
        All of them that can't be filled up further, in a fixed order; None when there are more
        than the room allows.
    """
    slack = Fraction(known - problem.step) - prices.bound
    if slack < 0:
        return []
    values = [ceil(value) for value in prices.values]
    out: list[Pattern] = []
    steps = room.steps
    for lay in problem.lays:
        walk = _Walk(problem, lay, values)
        for index, stock in enumerate(problem.stocks):
            least = floor(stock.cost + prices.scarce[index] - slack)
            for picks in walk.patterns(stock.capacity, least, steps):
                if picks is None or len(out) >= room.patterns:
                    return None
                out.append(Pattern(index, lay, picks))
            steps -= walk.steps
    return sorted(dict.fromkeys(out))


class _Walk:
    """All fillings of a bar worth at least so much, pruned by what the rest could still give."""

    def __init__(self, problem: Problem, lay: int, values: list[int]) -> None:
        self._search = Search(problem, [item.demand for item in problem.items])
        self.steps = 0
        rows = []
        for index, choice in enumerate(problem.choices):
            most = self._search.copies(index)
            if lay in choice.lays and most:
                rows.append((choice.weight, values[choice.items[0]], index, most))
        # What is worth most for its length comes first: the rest is then bounded best.
        self._rows = sorted(rows, key=lambda r: (-Fraction(r[1], r[0]), -r[0], r[2]))
        self._rest = self._tables()

    def _tables(self) -> "list[NDArray[np.int64]]":
        """Return the most that the rows from each on can give in each length, rounded up."""
        import numpy as np

        table = np.zeros(self._search.width, dtype=np.int64)
        tables = [table]
        for weight, value, _, most in reversed(self._rows):
            table = table.copy()
            cells, rest, copies = self._search.cell(weight), most, 1
            while rest:
                copies = min(copies, rest)
                shift = cells * copies
                if shift < len(table):
                    with_it = table[: len(table) - shift] + value * copies
                    np.maximum(with_it, table[shift:], out=table[shift:])
                rest -= copies
                copies *= 2
            tables.append(table)
        return tables[::-1]

    def patterns(
        self, capacity: int, least: int, steps: int
    ) -> Iterator[tuple[tuple[int, int], ...] | None]:
        """Yield all full fillings worth at least ``least``; None once it takes too many steps."""
        self.steps = 0
        stack: list[tuple[int, int, int, tuple[tuple[int, int], ...]]] = [(0, capacity, 0, ())]
        while stack:
            self.steps += 1
            if self.steps > steps:
                yield None
                return
            place, room, worth, picks = stack.pop()
            if place == len(self._rows):
                if picks and self._is_full(room, picks):
                    yield tuple(sorted(picks))
                continue
            weight, value, index, most = self._rows[place]
            rest = self._rest[place + 1]
            for n in range(min(most, room // weight) + 1):
                left = room - n * weight
                if worth + n * value + int(rest[self._search.cell(left)]) >= least:
                    more = (*picks, (index, n)) if n else picks
                    stack.append((place + 1, left, worth + n * value, more))

    def _is_full(self, room: int, picks: tuple[tuple[int, int], ...]) -> bool:
        taken = dict(picks)
        return all(
            weight > room or taken.get(index, 0) >= most for weight, _, index, most in self._rows
        )
