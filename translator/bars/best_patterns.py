"""The best way to fill a bar when each piece has a value: a bounded knapsack, exactly.

Dynamic programming over a grid of lengths, for all stock lengths at once. Where the lengths
have a common measure that is not too fine, the grid is exact. Else each weight is rounded up to
it for patterns that surely fit, and down for a value that no pattern can pass.
"""

from collections.abc import Sequence
from math import gcd
from typing import TYPE_CHECKING, Final, Literal

from msgspec import Struct

from translator.bars.cutting_stock import Pattern, Problem, weight_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Row = NDArray[np.int64]
    Bits = NDArray[np.bool_]

FINEST: Final = 24_000
"""Cells of the grid that the longest bar is parted into at most."""

COARSE: Final = 5_000
"""Cells that do to find most patterns, where the grid can't be exact anyway."""

_NOTHING: Final = -(2**60)


class Found(Struct, frozen=True, kw_only=True):
    """The best pattern of a stock under some values.

    Attributes:
        pattern: one that fits; None when nothing has a value.
        value: its value.
        most: a value that no pattern of that stock can pass.
    """

    pattern: Pattern | None
    value: int
    most: int


class _Stage(Struct, frozen=True, kw_only=True):
    """One step of the table: a choice taken ``copies`` times at once, or a family's charge."""

    weight: int
    choice: int = -1
    copies: int = 0
    kind: Literal["take", "open", "close"] = "take"


class Search:
    """Fills bars of one problem, with no more pieces than are still wanted."""

    def __init__(self, problem: Problem, wanted: Sequence[int], finest: int = FINEST) -> None:
        """Prepare to fill bars.

        Args:
            problem: what there is.
            wanted: how many pieces of each item are still wanted.
            finest: cells of the grid, where no exact one of at most ``FINEST`` cells exists.
        """
        self.problem = problem
        self.wanted = tuple(wanted)
        self._most = tuple(self.copies(index) for index in range(len(problem.choices)))
        weights = [c.weight for c, most in zip(problem.choices, self._most, strict=True) if most]
        self._longest = max((stock.capacity for stock in problem.stocks), default=0)
        unit = gcd(*weights, *problem.charges) if weights else 1
        self.is_exact = self._longest // unit <= FINEST
        self._unit = unit if self.is_exact else -(-self._longest // finest)

    def copies(self, index: int) -> int:
        """Return how often a choice can be on one bar."""
        choice = self.problem.choices[index]
        charge = 0 if choice.family is None else self.problem.charges[choice.family]
        room = max((stock.capacity for stock in self.problem.stocks), default=0) - charge
        fits = max(0, room // choice.weight)
        wanted = min(self.wanted[i] // choice.items.count(i) for i in choice.items)
        return min(fits, wanted)

    def best(
        self, values: Sequence[int], prices: Sequence[float] | None = None
    ) -> tuple[Found, ...]:
        """Return the best pattern of each stock under the value of a piece of each item.

        Args:
            values: of a piece of each item.
            prices: what a bar of each stock costs; a pattern that is worth no more is not made.
        """
        worth = self._worth(values)
        found = [Found(pattern=None, value=0, most=0)] * len(self.problem.stocks)
        for lay in self.problem.lays:
            tables = _Tables(self, lay, worth)
            for index, stock in enumerate(self.problem.stocks):
                most = tables.most(stock.capacity)
                if most <= found[index].value or (prices is not None and most <= prices[index]):
                    found[index] = _with_most(found[index], most)
                    continue
                picks = tables.picks(stock.capacity)
                found[index] = self._better(found[index], Pattern(index, lay, picks), worth, most)
        return tuple(found)

    def cheapest(self, values: Sequence[int], free: Sequence[int | None]) -> Pattern | None:
        """Return the pattern that is worth most for the cost of its bar; of equals the longer.

        Args:
            values: of a piece of each item.
            free: how many bars of each stock are left; None = as many as are wanted.
        """
        worth = self._worth(values)
        best: tuple[int, int, int, _Tables] | None = None
        for lay in self.problem.lays:
            tables = _Tables(self, lay, worth)
            for index, stock in enumerate(self.problem.stocks):
                most = tables.most(stock.capacity) if free[index] != 0 else 0
                if most and (best is None or _beats(most, stock.cost, best[0], best[1])):
                    best = (most, stock.cost, index, tables)
        if best is None:
            return None
        _, _, index, tables = best
        picks = tables.picks(self.problem.stocks[index].capacity)
        if not picks:
            return None
        pattern = Pattern(index, tables.lay, picks)
        return Pattern(index, tables.lay, self._filled(pattern))

    def _worth(self, values: Sequence[int]) -> tuple[int, ...]:
        return tuple(sum(values[i] for i in choice.items) for choice in self.problem.choices)

    def _better(self, known: Found, pattern: Pattern, worth: Sequence[int], most: int) -> Found:
        value = sum(worth[choice] * n for choice, n in pattern.picks)
        if not pattern.picks or value <= known.value:
            return _with_most(known, most)
        full = Pattern(pattern.stock, pattern.lay, self._filled(pattern))
        return Found(pattern=full, value=value, most=max(most, known.most))

    def _filled(self, pattern: Pattern) -> tuple[tuple[int, int], ...]:
        """Fill what is left of a bar with the longest choices that fit, whatever their value."""
        picks = dict(pattern.picks)
        choices = self.problem.choices
        left = list(self.wanted)
        for index, n in picks.items():
            for item in choices[index].items:
                left[item] -= n
        room = self.problem.stocks[pattern.stock].capacity
        room -= weight_of(self.problem, pattern.picks)
        for index in sorted(range(len(choices)), key=lambda i: (-choices[i].weight, i)):
            choice = choices[index]
            if choice.family is not None or pattern.lay not in choice.lays:
                continue
            fits = min(
                room // choice.weight, *(left[i] // choice.items.count(i) for i in choice.items)
            )
            if fits > 0:
                picks[index] = picks.get(index, 0) + fits
                room -= fits * choice.weight
                for item in choice.items:
                    left[item] -= fits
        return tuple(sorted(picks.items()))

    def stages(self, lay: int, worth: Sequence[int], *, is_up: bool) -> list[_Stage]:
        """Return the steps of the table: choices of worth, each family between its charges."""
        out: list[_Stage] = []
        useful = [
            (i, choice)
            for i, choice in enumerate(self.problem.choices)
            if worth[i] > 0 and self._most[i] and lay in choice.lays
        ]
        for i, choice in useful:
            if choice.family is None:
                out += self._split(i, choice.weight, is_up=is_up)
        for family, charge in enumerate(self.problem.charges):
            members = [(i, choice) for i, choice in useful if choice.family == family]
            if members:
                out.append(_Stage(weight=self._cells(charge, is_up=is_up), kind="open"))
                for i, choice in members:
                    out += self._split(i, choice.weight, is_up=is_up)
                out.append(_Stage(weight=0, kind="close"))
        return out

    def _split(self, choice: int, weight: int, *, is_up: bool) -> list[_Stage]:
        """Part the copies of a choice into 1, 2, 4, ... and a rest, which sum up to any number."""
        cells = self._cells(weight, is_up=is_up)
        out, rest, copies = [], self._most[choice], 1
        while rest:
            copies = min(copies, rest)
            out.append(_Stage(weight=cells * copies, choice=choice, copies=copies))
            rest -= copies
            copies *= 2
        return out

    def _cells(self, weight: int, *, is_up: bool) -> int:
        return -(-weight // self._unit) if is_up else weight // self._unit

    def cell(self, capacity: int) -> int:
        """Return the cell of the grid that a capacity lies in."""
        return capacity // self._unit

    @property
    def width(self) -> int:
        """How many cells the table has."""
        return self._longest // self._unit + 1


class _Tables:
    """The table of one lay, and the one of surely fitting patterns where the grid is not exact."""

    def __init__(self, search: Search, lay: int, worth: Sequence[int]) -> None:
        self.lay = lay
        self._search = search
        self._worth = worth
        self._over = _Table(search, lay, worth, is_up=search.is_exact)
        self._under: _Table | None = None

    def most(self, capacity: int) -> int:
        """Return a value that no pattern in a length can pass."""
        return self._over.value(capacity)

    def picks(self, capacity: int) -> tuple[tuple[int, int], ...]:
        """Return a pattern that fits, the best one where the grid is exact."""
        picks = self._over.picks(capacity)
        if weight_of(self._search.problem, picks) <= capacity:
            return picks
        if self._under is None:
            self._under = _Table(self._search, self.lay, self._worth, is_up=True)
        return self._under.picks(capacity)


class _Table:
    """Value of the best pattern of at most each length, and how it came about."""

    def __init__(self, search: Search, lay: int, worth: Sequence[int], *, is_up: bool) -> None:
        import numpy as np

        self._search = search
        self._stages = search.stages(lay, worth, is_up=is_up)
        self._taken: list[Bits | None] = []
        best = np.zeros(search.width, dtype=np.int64)
        outside = best
        for stage in self._stages:
            taken = None
            if stage.kind == "open":
                outside = best
                best = np.full(search.width, _NOTHING, dtype=np.int64)
                best[stage.weight :] = outside[: max(0, search.width - stage.weight)]
            elif stage.kind == "close":
                taken = best > outside
                best = np.maximum(best, outside)
            else:
                taken = _take(best, stage.weight, worth[stage.choice] * stage.copies)
            self._taken.append(taken)
        self._best = best

    def value(self, capacity: int) -> int:
        """Return the most value in a length."""
        return int(self._best[self._search.cell(capacity)]) if capacity >= 0 else 0

    def picks(self, capacity: int) -> tuple[tuple[int, int], ...]:
        """Return the choices that make the value, and how often each is taken."""
        cell = self._search.cell(capacity)
        picks: dict[int, int] = {}
        is_open = True
        for stage, taken in zip(reversed(self._stages), reversed(self._taken), strict=True):
            if stage.kind == "close":
                is_open = bool(taken is not None and taken[cell])
            elif stage.kind == "open":
                cell -= stage.weight if is_open else 0
                is_open = True
            elif is_open and taken is not None and taken[cell]:
                picks[stage.choice] = picks.get(stage.choice, 0) + stage.copies
                cell -= stage.weight
        return tuple(sorted(picks.items()))


def _take(best: "Row", weight: int, value: int) -> "Bits":
    """Let a stage be taken where that is worth more; tell where it is. Changes ``best``."""
    import numpy as np

    taken = np.zeros(len(best), dtype=np.bool_)
    if weight < len(best):
        with_it = best[: len(best) - weight] + value
        rest = best[weight:]
        np.greater(with_it, rest, out=taken[weight:])
        np.maximum(with_it, rest, out=rest)
    return taken


def _with_most(found: Found, most: int) -> Found:
    return Found(pattern=found.pattern, value=found.value, most=max(found.most, most))


def _beats(value: int, cost: int, best: int, least: int) -> bool:
    """Tell whether a value for a cost is better than another; of equals the greater value is."""
    return (value * least, value) > (best * cost, best)
