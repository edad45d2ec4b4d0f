"""How many bars some pieces take, quickly: a longest-first filling, no plan."""

from collections.abc import Sequence
from typing import Final

from translator.bars.figures import PRACTICE, Assumption, Figure
from translator.machines.profile import Machine
from translator.machines.ranges import SLACK_MM

USUAL_BAR_MM: Final = {"inch": 6096.0, "mm": 6000.0}
"""A bar that every merchant stocks, 20 ft or 6 m; common practice, no source."""

Lengths = Sequence[tuple[float, int]]
"""Length of bar that a piece takes, its cut with it, and how many such pieces there are."""


def usual_bar(machine: Machine, units: str, stated_mm: float | None) -> Figure:
    """Return the length of bar to reckon with: the one stated, else the usual, millimetres.

    A machine that takes no bar so long, or none so short, sets its own limit.
    """
    taken = machine.stock_length
    wished = USUAL_BAR_MM[units] if stated_mm is None else stated_mm
    most = wished if taken.most_mm is None else taken.most_mm
    length = max(taken.least_mm, min(most, wished))
    if length != wished:
        return Figure(value=length, assumed=assumed_bar(length, "as the machine takes bars"))
    return Figure(value=length, assumed=assumed_bar(length) if stated_mm is None else None)


def longest_bar(machine: Machine, usual_mm: float, needed_mm: float) -> float:
    """Return the bar for a piece that the usual one does not give: the machine's longest.

    Where the machine has no limit it is as many usual lengths as the piece needs.
    """
    most = machine.stock_length.most_mm
    if most is not None and most >= needed_mm - SLACK_MM:
        return most
    return usual_mm * -(-needed_mm // usual_mm)


def assumed_bar(length_mm: float, source: str = PRACTICE) -> Assumption:
    """Return the assumption that a length of bar is."""
    return Assumption(
        what="length of a bar", value=length_mm, unit="mm", source=source, field="--bar"
    )


def bars_needed(pieces: Lengths, usable_mm: float) -> int:
    """Return how many bars of a usable length a longest-first filling takes.

    Each bar is filled with what is longest of what is left; bars filled alike are counted
    together, so that thousands of pieces take no longer than dozens. Every piece must fit.

    Raises:
        ValueError: for a piece longer than the usable length.
    """
    lengths = sorted((length, count) for length, count in pieces if count)[::-1]
    left = [count for _, count in lengths]
    if any(length > usable_mm + SLACK_MM for length, _ in lengths):
        raise ValueError("a piece is longer than the bar")
    bars = 0
    while any(left):
        room, pattern = usable_mm + SLACK_MM, []
        for (length, _), count in zip(lengths, left, strict=True):
            number = min(count, int(room / length))
            room -= number * length
            pattern.append(number)
        alike = min(count // n for count, n in zip(left, pattern, strict=True) if n)
        bars += alike
        left = [count - alike * n for count, n in zip(left, pattern, strict=True)]
    return bars
