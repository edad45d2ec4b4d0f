"""Place texts along a line so that none touches the next and each stays near its wish."""

from collections.abc import Sequence
from itertools import pairwise


def spread(wishes: Sequence[float], pitch: float) -> list[float]:
    """Move places apart to a pitch, in order, with the least sum of squared moves.

    A place that needs no move keeps its exact value.

    Args:
        wishes: in rising order.
        pitch: least distance from one to the next.
    """
    blocks: list[tuple[float, int]] = []  # sum of what each place asks of the first, and count
    for index, wish in enumerate(wishes):
        total, count = wish - index * pitch, 1
        while blocks and blocks[-1][0] * count > total * blocks[-1][1]:
            before, members = blocks.pop()
            total, count = total + before, count + members
        blocks.append((total, count))
    placed: list[float] = []
    for total, count in blocks:
        first = len(placed)
        if count == 1:
            placed.append(wishes[first])
        else:
            placed.extend(total / count + i * pitch for i in range(first, first + count))
    return placed


def rows(spans: Sequence[tuple[float, float]]) -> list[int]:
    """Give each span the lowest row in which it overlaps no other; touching ends may meet.

    Args:
        spans: least and greatest place of each, sorted by the least.
    """
    ends: list[float] = []
    chosen: list[int] = []
    for low, high in spans:
        row = next((i for i, end in enumerate(ends) if end <= low), len(ends))
        if row == len(ends):
            ends.append(high)
        ends[row] = high
        chosen.append(row)
    return chosen


def widest_gap(low: float, high: float, marks: Sequence[float]) -> tuple[float, float]:
    """Return the widest free stretch between two ends with marks in between, marks sorted."""
    inside = [low, *(mark for mark in marks if low < mark < high), high]
    return max(pairwise(inside), key=lambda pair: (pair[1] - pair[0], -pair[0]))
