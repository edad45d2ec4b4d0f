"""Find room for numbered balloons in a band along a leg, none over another."""

from collections.abc import Sequence
from typing import Final

from msgspec import Struct

HEIGHT: Final = 20.0
"""Height of a balloon, in units."""

GAP: Final = 4.0
"""Least room between two balloons."""

PITCH: Final = 26.0
"""From tier to tier."""

MOST_TIERS: Final = 4
_LETTER: Final = 7.4
_PADDING: Final = 9.0


class Seat(Struct, frozen=True, kw_only=True):
    """Where a balloon sits: its middle along the band, and its tier, 0 next to the leg."""

    x: float
    tier: int


def width_of(text: str) -> float:
    """Return the width of a balloon around a text."""
    return max(HEIGHT, len(text) * _LETTER + _PADDING)


def seats(
    wishes: Sequence[tuple[float, float]], left: float, right: float
) -> tuple[Seat | None, ...]:
    """Seat balloons as near as can be to where they would like to be.

    Args:
        wishes: for each balloon the place it would like and its width.
        left: where the band begins.
        right: where it ends.

    Returns:
        For each balloon its seat, None where the band is full.
    """
    order = sorted(range(len(wishes)), key=lambda i: (wishes[i][0], i))
    tiers = _tiers(wishes, right - left)
    found: list[Seat | None] = [None] * len(wishes)
    for tier in range(tiers):
        own = order[tier::tiers]
        own = _fitting([wishes[i][1] for i in own], own, right - left)
        places = _spread([wishes[i] for i in own], left, right)
        for index, x in zip(own, places, strict=True):
            found[index] = Seat(x=x, tier=tier)
    return tuple(found)


def _tiers(wishes: Sequence[tuple[float, float]], room: float) -> int:
    """Return how many tiers the balloons need to lie near their places."""
    wanted = sum(width + GAP for _, width in wishes)
    crowded = _crowding(wishes)
    needed = 1 + int(max(wanted / (0.75 * room), crowded - 0.5))
    return min(max(1, needed), MOST_TIERS)


def _crowding(wishes: Sequence[tuple[float, float]]) -> float:
    """Return how thickly the thickest neighbourhood of six would like to sit, 1 for side by side.

    Balloons that would have to go far from their places are better put into two tiers.
    """
    ordered = sorted(wishes)
    worst = 0.0
    for index in range(len(ordered) - 5):
        group = ordered[index : index + 6]
        room = group[-1][0] - group[0][0] + group[0][1]
        worst = max(worst, sum(width + GAP for _, width in group) / max(room, 60.0) * 0.5)
    return worst


def _fitting(widths: Sequence[float], order: Sequence[int], room: float) -> list[int]:
    """Return as many of the balloons as the tier holds, from the left."""
    used, kept = 0.0, []
    for index, width in zip(order, widths, strict=True):
        used += width + GAP
        if used > room + GAP:
            break
        kept.append(index)
    return kept


def _spread(wishes: Sequence[tuple[float, float]], left: float, right: float) -> list[float]:
    """Return middles along one tier, in order, none nearer to its neighbour than the gap.

    From the left each balloon is pushed as far as it must, then from the right back into the
    band; what was pushed is then let go back half of the way where there is room.
    """
    places: list[float] = []
    edge = left
    for x, width in wishes:
        middle = max(x, edge + width / 2.0)
        places.append(middle)
        edge = middle + width / 2.0 + GAP
    edge = right
    for index in range(len(wishes) - 1, -1, -1):
        width = wishes[index][1]
        places[index] = min(places[index], edge - width / 2.0)
        edge = places[index] - width / 2.0 - GAP
    edge = left
    for index, (x, width) in enumerate(wishes):
        wish = x + (places[index] - x) / 2.0 if places[index] > x else places[index]
        places[index] = max(wish, edge + width / 2.0)
        edge = places[index] + width / 2.0 + GAP
    return places
