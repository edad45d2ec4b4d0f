"""Which old thing became which new one: the pairs that cost least in all."""

from collections.abc import Sequence
from typing import Final

FORBIDDEN: Final = 1e12
"""Cost of a pair that must not be."""


def cheapest(costs: Sequence[Sequence[float]], alone: float) -> list[tuple[int, int]]:
    """Return the pairs (row, column) that cost least in all, each row and column once at most.

    A row or column may stay alone, for ``alone`` each pair that could have been; so a pair that
    costs more is never made. Exact (the Hungarian method), in n^3 steps; of solutions that cost
    the same the one that the method finds first, so the same costs give the same pairs.

    Args:
        costs: of each pair, not negative.
        alone: what a pair may cost at most.
    """
    rows = len(costs)
    columns = len(costs[0]) if rows else 0
    if not rows or not columns:
        return []
    # Padded so that every row and column has a partner that stands for being alone.
    square = [
        [min(cost, FORBIDDEN) if cost <= alone else FORBIDDEN for cost in row]
        + [alone / 2.0] * rows
        for row in costs
    ]
    square += [[alone / 2.0] * columns + [0.0] * rows for _ in range(columns)]
    partner = _hungarian(square)
    return [(i, j) for i in range(rows) if (j := partner[i]) < columns and square[i][j] < FORBIDDEN]


def _hungarian(costs: Sequence[Sequence[float]]) -> list[int]:
    """Return the column of each row of a square of costs, the sum least (Kuhn-Munkres)."""
    n = len(costs)
    row_price = [0.0] * (n + 1)
    column_price = [0.0] * (n + 1)
    taken = [0] * (n + 1)
    for row in range(1, n + 1):
        way = _grown(costs, row, taken, row_price, column_price)
        column = way[1]
        while column:
            taken[column] = taken[way[0][column]]
            column = way[0][column]
    found = [0] * n
    for column in range(1, n + 1):
        found[taken[column] - 1] = column - 1
    return found


def _grown(
    costs: Sequence[Sequence[float]],
    row: int,
    taken: list[int],
    row_price: list[float],
    column_price: list[float],
) -> tuple[list[int], int]:
    """Find the cheapest way from a row to a free column; prices are kept up to date."""
    n = len(costs)
    taken[0] = row
    column = 0
    least = [float("inf")] * (n + 1)
    seen = [False] * (n + 1)
    back = [0] * (n + 1)
    while True:
        seen[column] = True
        own, step, following = taken[column], float("inf"), 0
        for j in range(1, n + 1):
            if seen[j]:
                continue
            price = costs[own - 1][j - 1] - row_price[own] - column_price[j]
            if price < least[j]:
                least[j], back[j] = price, column
            if least[j] < step:
                step, following = least[j], j
        for j in range(n + 1):
            if seen[j]:
                row_price[taken[j]] += step
                column_price[j] -= step
            else:
                least[j] -= step
        column = following
        if taken[column] == 0:
            return back, column
