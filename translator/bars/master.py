"""The patterns known so far, and the best mix of them in fractions of bars.

The one module that speaks to the solver (HiGHS). It runs on one thread with a fixed seed and
is stopped by counts, never by the clock, so the same problem gives the same answer.
"""

from typing import Any

from msgspec import Struct

from translator.bars.cutting_stock import Pattern, Problem, made_by
from translator.errors import WorkError


class Mix(Struct, frozen=True, kw_only=True):
    """The best mix of known patterns, bars in fractions.

    Attributes:
        cost: its cost, penalties for missing pieces included.
        values: what one more piece of each item would cost.
        scarce: what one more bar of each stock would save.
        uses: how many bars each known pattern is cut on.
        short: missing pieces of each item.
    """

    cost: float
    values: tuple[float, ...]
    scarce: tuple[float, ...]
    uses: tuple[float, ...]
    short: tuple[float, ...]


class Master:
    """The patterns known so far of one problem."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.patterns: list[Pattern] = []
        self._known: set[Pattern] = set()
        self._scale = float(max(1, *(stock.cost for stock in problem.stocks)))
        self._limited = _limited_rows(problem)
        self._solver = _solver()
        self._rows()
        for index, stock in enumerate(problem.stocks):
            if stock.least:  # so that the bars asked for can be used at all, with nothing on them
                self.add(Pattern(index, 0, ()))

    def _rows(self) -> None:
        """Ask for each item's pieces, allow them to be missing, and limit the bars."""
        solver, infinity = self._solver, _highspy().kHighsInf
        for item in self.problem.items:
            solver.addRow(float(item.demand), infinity, 0, [], [])
        for index in self._limited:
            stock = self.problem.stocks[index]
            most = infinity if stock.count is None else float(stock.count)
            least = float(stock.least) if stock.least else -infinity
            solver.addRow(least, most, 0, [], [])
        for row, item in enumerate(self.problem.items):
            solver.addCol(item.penalty / self._scale, 0.0, float(item.demand), 1, [row], [1.0])

    def add(self, pattern: Pattern) -> bool:
        """Take a pattern in; tell whether it is new."""
        if pattern in self._known:
            return False
        self._known.add(pattern)
        self.patterns.append(pattern)
        made = sorted(made_by(self.problem, pattern.picks).items())
        rows = [item for item, _ in made]
        figures = [float(n) for _, n in made]
        if pattern.stock in self._limited:
            rows.append(self._limited[pattern.stock])
            figures.append(1.0)
        cost = self.problem.stocks[pattern.stock].cost / self._scale
        infinity = _highspy().kHighsInf
        self._solver.addCol(cost, 0.0, infinity, len(rows), rows, figures)
        return True

    def mix(self) -> Mix:
        """Return the best mix in fractions."""
        self._solver.run()
        solution = self._solver.getSolution()
        items = len(self.problem.items)
        columns, duals = list(solution.col_value), list(solution.row_dual)
        rows = [self._limited.get(stock) for stock in range(len(self.problem.stocks))]
        return Mix(
            cost=self._solver.getInfo().objective_function_value * self._scale,
            values=tuple(dual * self._scale for dual in duals[:items]),
            scarce=tuple(0.0 if row is None else -duals[row] * self._scale for row in rows),
            uses=tuple(columns[items:]),
            short=tuple(columns[:items]),
        )


def _limited_rows(problem: Problem) -> dict[int, int]:
    """Return the row of each stock whose bars are counted."""
    limited = [i for i, s in enumerate(problem.stocks) if s.count is not None or s.least]
    return {stock: len(problem.items) + place for place, stock in enumerate(limited)}


def _solver() -> Any:  # noqa: ANN401 - the package has no types of its own
    solver = _highspy().Highs()
    solver.setOptionValue("output_flag", False)  # noqa: FBT003 - the solver's own call
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 0)
    return solver


def _highspy() -> Any:  # noqa: ANN401 - a module
    try:
        import highspy
    except ImportError as error:
        raise WorkError(
            "a cutting plan needs the package highspy, which is not installed:"
            " python -m pip install highspy"
        ) from error
    return highspy
