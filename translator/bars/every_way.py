"""Every way to cut a few bars, told apart by what it loses: the best plan outright.

The longest piece still wanted must be on some bar: each pattern that holds it is tried in turn.
What a bar costs beyond what its pieces are worth, at the prices that prove the bound, is lost;
once more is lost than the gap is wide, no cheaper plan can follow.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

from msgspec import Struct

from translator.bars.column_generation import Prices
from translator.bars.cutting_stock import Pattern, Problem, made_by

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]


class Outright(Struct, frozen=True, kw_only=True):
    """What the search found.

    Attributes:
        plan: a plan cheaper than the one known; None when there is none.
        is_whole: whether every way was looked at, so that the plan, or else the one known,
            is the best there is.
    """

    plan: Mapping[Pattern, int] | None
    is_whole: bool


def every_way(
    problem: Problem, patterns: Sequence[Pattern], prices: Prices, known: int, steps: int
) -> Outright:
    """Look for a plan cheaper than ``known`` that leaves no piece out.

    Args:
        problem: what is wanted.
        patterns: all that such a plan may be made of, filled up.
        prices: what proves the bound.
        known: cost of the plan at hand.
        steps: how many bars may be tried in all.
    """
    return _Search(problem, patterns, prices, known, steps).run()


class _Search:
    def __init__(
        self,
        problem: Problem,
        patterns: Sequence[Pattern],
        prices: Prices,
        known: int,
        steps: int,
    ) -> None:
        import numpy as np

        self._problem = problem
        self._patterns = patterns
        self._known, self._bound = known, prices.bound
        self._slack = self._allowed()
        self._values = np.array([ceil(value) for value in prices.values], dtype=np.int64)
        self._steps = steps
        self._made = np.zeros((len(patterns), len(problem.items)), dtype=np.int64)
        for row, pattern in enumerate(patterns):
            for item, n in made_by(problem, pattern.picks).items():
                self._made[row, item] = n
        self._price = np.array(
            [floor(problem.stocks[p.stock].cost + prices.scarce[p.stock]) for p in patterns],
            dtype=np.int64,
        )
        self._stock = np.array([p.stock for p in patterns], dtype=np.int64)
        self._order = _longest_first(problem)
        self._seen: dict[tuple[bytes, tuple[int, ...]], int] = {}
        self._best: dict[Pattern, int] | None = None
        counts = [s.count if s.count is not None else -1 for s in problem.stocks]
        self._counts = tuple(counts)

    def run(self) -> Outright:
        import numpy as np

        wanted = np.array([item.demand for item in self._problem.items], dtype=np.int64)
        is_whole = self._go(wanted, self._counts, 0, ())
        return Outright(plan=self._best, is_whole=is_whole)

    def _go(
        self, wanted: "Numbers", free: tuple[int, ...], lost: int, rows: tuple[int, ...]
    ) -> bool:
        """Try all bars for the longest piece still wanted; tell whether all were tried."""
        item = next((i for i in self._order if wanted[i]), None)
        if item is None:
            self._keep(rows)
            return True
        key = (wanted.tobytes(), free)
        if self._seen.get(key, self._slack + 1) <= lost:
            return True
        self._seen[key] = lost
        for loss, row in self._tries(item, wanted, free):
            if lost + loss > self._slack:
                break
            self._steps -= 1
            if self._steps < 0:
                return False
            left = wanted - self._made[row]
            left[left < 0] = 0
            stock = int(self._stock[row])
            less = list(free)
            if less[stock] > 0:
                less[stock] -= 1
            if not self._go(left, tuple(less), lost + loss, (*rows, row)):
                return False
            if self._slack < lost:
                break
        return True

    def _tries(self, item: int, wanted: "Numbers", free: tuple[int, ...]) -> list[tuple[int, int]]:
        """Return what each pattern with the item loses, least first; alike ones once."""
        import numpy as np

        rows = np.flatnonzero(self._made[:, item])
        rows = rows[np.array(free, dtype=np.int64)[self._stock[rows]] != 0]
        used = np.minimum(self._made[rows], wanted)
        losses = self._price[rows] - used @ self._values
        order = np.lexsort((rows, losses))
        out: list[tuple[int, int]] = []
        alike: set[tuple[int, bytes]] = set()
        for place in order:
            key = (int(self._stock[rows[place]]), used[place].tobytes())
            if key not in alike:
                alike.add(key)
                out.append((int(losses[place]), int(rows[place])))
        return out

    def _keep(self, rows: tuple[int, ...]) -> None:
        """Keep a plan when it is cheaper than the best so far, and ask for cheaper ones."""
        plan: dict[Pattern, int] = {}
        for row in rows:
            pattern = self._patterns[row]
            plan[pattern] = plan.get(pattern, 0) + 1
        cost = sum(self._problem.stocks[p.stock].cost * n for p, n in plan.items())
        if cost < self._known:
            self._best, self._known = plan, cost
            self._slack = self._allowed()

    def _allowed(self) -> int:
        """Return what a plan cheaper than the best one known may lose."""
        return floor(Fraction(self._known - self._problem.step) - self._bound)


def _longest_first(problem: Problem) -> list[int]:
    longest = [0] * len(problem.items)
    for choice in problem.choices:
        for item in choice.items:
            longest[item] = max(longest[item], choice.weight)
    return sorted(range(len(longest)), key=lambda i: (-longest[i], i))
