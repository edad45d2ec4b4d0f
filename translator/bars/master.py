"""The patterns known so far, and the best mix of them: as fractions, and in whole bars.

The one module that speaks to the solver (HiGHS). It runs on one thread with a fixed seed and
is stopped by counts, never by the clock, so the same problem gives the same answer.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from translator.bars.cutting_stock import Pattern, Problem, made_by
from translator.errors import WorkError

if TYPE_CHECKING:
    import highspy

_NEAR: Final = 1e-6
"""What the solver takes for whole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """A mix in whole bars.

    Attributes:
        uses: pattern and how many bars are cut so; None when the solver found none.
        bound: no mix of these patterns costs less, penalties included.
        is_best: whether it is proved to be the best mix of these patterns.
    """

    uses: Mapping[Pattern, int] | None
    bound: float
    is_best: bool


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
            solver.addRow(float(stock.least), most, 0, [], [])
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


def whole_mix(problem: Problem, patterns: Sequence[Pattern], nodes: int, known: int) -> Whole:
    """Return the best mix of some patterns in whole bars, branching at most ``nodes`` times.

    Args:
        problem: what is wanted.
        patterns: those that may be used.
        nodes: branches of the solver's search.
        known: cost of a plan at hand, penalties included; only a cheaper one is looked for.
    """
    master = Master(problem)
    for pattern in patterns:
        master.add(pattern)
    return master_in_whole(master, nodes, known)


def master_in_whole(master: Master, nodes: int, known: int) -> Whole:
    """Solve a master in whole bars; see ``whole_mix``. The master is used up by it."""
    highs, problem = _highspy(), master.problem
    solver, items = master._solver, len(problem.items)  # noqa: SLF001 - the same room's own
    scale = master._scale  # noqa: SLF001
    count = items + len(master.patterns)
    solver.changeColsIntegrality(count, list(range(count)), [highs.HighsVarType.kInteger] * count)
    solver.setOptionValue("mip_max_nodes", nodes)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.5 * problem.step / scale)
    solver.setOptionValue("objective_bound", (known - 0.5 * problem.step) / scale)
    solver.run()
    status = solver.getModelStatus()
    info = solver.getInfo()
    if status == highs.HighsModelStatus.kInfeasible:
        return Whole(uses=None, bound=float(known), is_best=True)
    is_best = status == highs.HighsModelStatus.kOptimal
    bound = info.mip_dual_bound * scale
    if info.primal_solution_status != highs.SolutionStatus.kSolutionStatusFeasible:
        return Whole(uses=None, bound=bound, is_best=False)
    figures = list(solver.getSolution().col_value)[items:]
    uses = {
        pattern: round(figure)
        for pattern, figure in zip(master.patterns, figures, strict=True)
        if figure > _NEAR and round(figure)
    }
    return Whole(uses=uses, bound=bound, is_best=is_best)


def _limited_rows(problem: Problem) -> dict[int, int]:
    """Return the row of each stock whose bars are counted."""
    limited = [i for i, s in enumerate(problem.stocks) if s.count is not None or s.least]
    return {stock: len(problem.items) + place for place, stock in enumerate(limited)}


def _solver() -> "highspy.Highs":
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
