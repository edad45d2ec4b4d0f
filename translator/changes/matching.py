"""Which feature of the new leg is which of the old one.

Whatever is matched is told with its old and its new values, so a poor match makes a clumsy
sentence, never a wrong one. The steps go from what is certain to what is likely:

1. features that are equal apart from spelling;
2. those that differ by rounding;
3. features of equal size that lie off by one and the same step (a pattern that was shifted),
   the step that most of them share first;
4. of the rest, the pairs that lie and look nearest to each other, the sum least.

What has no partner within ``LARGEST_MOVE_MM`` was added or removed.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from typing import Final

from msgspec import Struct

from translator.changes.alike import ROUNDING_MM, Traits, figures_of, rounding_between
from translator.changes.assignment import FORBIDDEN, cheapest
from translator.model import on_grid

LARGEST_MOVE_MM: Final = 150.0
"""A single feature that lies farther off is not the same one moved, but another."""

CHANGED_FACTOR: Final = 3.0
"""A feature that also changed otherwise is looked for only within a third of that."""

CHANGED_COST_MM: Final = 5.0
"""What being of another size weighs, as a distance; of another kind, four times that."""

_EXACT: Final = 60
"""Features left of a leg that are paired exactly; more are paired in order."""

_MOST_STEPS: Final = 24
_MOST_VOTES: Final = 60_000
_SAMPLE: Final = 12
_BORED: Final = frozenset({"hole", "slot"})


class Matching(Struct, frozen=True, kw_only=True):
    """Numbers of old and new features.

    Attributes:
        same: pairs that are equal apart from spelling.
        rounded: pairs that differ by rounding only.
        other: pairs that differ.
        removed: old ones without a partner.
        added: new ones without a partner.
    """

    same: tuple[tuple[int, int], ...]
    rounded: tuple[tuple[int, int], ...]
    other: tuple[tuple[int, int], ...]
    removed: tuple[int, ...]
    added: tuple[int, ...]


class _Open:
    """What is not matched yet."""

    def __init__(self, old: Sequence[Traits], new: Sequence[Traits]) -> None:
        self.old, self.new = old, new
        self.left = dict.fromkeys(range(len(old)))
        self.right = dict.fromkeys(range(len(new)))

    def taken(self, pairs: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
        """Take pairs out, those of which neither is taken yet, and return them."""
        found = []
        for i, j in pairs:
            if i in self.left and j in self.right:
                del self.left[i], self.right[j]
                found.append((i, j))
        return tuple(found)


def match(old: Sequence[Traits], new: Sequence[Traits], longer_mm: float = 0.0) -> Matching:
    """Match the features of a leg.

    Args:
        old: of the old leg.
        new: of the new leg.
        longer_mm: by how much the piece grew; what is measured from the far end moved by it.
    """
    still = _Open(old, new)
    same = still.taken(_equal(still, lambda t: t.key))
    rounded = still.taken(_rounded(still))
    other = _shifted(still, longer_mm)
    other += still.taken(_nearest(still))
    return Matching(
        same=same,
        rounded=rounded,
        other=tuple(sorted(other)),
        removed=tuple(still.left),
        added=tuple(still.right),
    )


def unlike(old: Sequence[Traits], new: Sequence[Traits]) -> int:
    """Count the features that are neither equal nor differ by rounding only."""
    still = _Open(old, new)
    still.taken(_equal(still, lambda t: t.key))
    still.taken(_rounded(still))
    return max(len(still.left), len(still.right))


def _equal(
    still: _Open, key: Callable[[Traits], tuple[object, ...]], by: tuple[float, float] = (0.0, 0.0)
) -> Iterable[tuple[int, int]]:
    """Yield pairs with one key, the first old with the first new of them."""
    waiting: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for j in reversed(still.right):
        waiting[key(still.new[j])].append(j)
    for i in tuple(still.left):
        one = still.old[i]
        if by != (0.0, 0.0):
            one = one._replace(x=on_grid(one.x + by[0]), y=on_grid(one.y + by[1]))
        partners = waiting.get(key(one))
        if partners:
            yield i, partners.pop()


def _rounded(still: _Open) -> list[tuple[int, int]]:
    """Return pairs that differ by rounding only, the nearest first."""
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for j in still.right:
        cells[_cell(still.new[j])].append(j)
    found = []
    for i in still.left:
        column, row = _cell(still.old[i])
        for cell in ((column + a, row + b) for a in (-1, 0, 1) for b in (-1, 0, 1)):
            for j in cells.get(cell, ()):
                off = rounding_between(still.old[i], still.new[j])
                if off is not None:
                    found.append((off, i, j))
    return [(i, j) for _, i, j in sorted(found)]


def _cell(one: Traits) -> tuple[int, int]:
    size = 4.0 * ROUNDING_MM
    return (math.floor(one.x / size), math.floor(one.y / size))


def _shifted(still: _Open, longer_mm: float) -> tuple[tuple[int, int], ...]:
    """Take out pairs of equal features that share a step, the most common step first."""
    found: tuple[tuple[int, int], ...] = ()
    for _ in range(_MOST_STEPS):
        votes = _votes(still)
        # A step that the length explains goes before one that two features share by chance.
        ranked = sorted(
            (-count, step != (longer_mm, 0.0), math.hypot(*step), step)
            for step, count in votes.items()
            if count > 1 or step == (longer_mm, 0.0) != (0.0, 0.0)
        )
        if not ranked:
            break
        step = ranked[0][3]
        pairs = still.taken(_equal(still, lambda t: t.key, by=step))
        if not pairs:
            break
        found += pairs
    return found


def _votes(still: _Open) -> Counter[tuple[float, float]]:
    """Count for each step how many old features it brings onto an equal new one."""
    by_body: dict[tuple[object, ...], tuple[list[Traits], list[Traits]]] = {}
    for i in still.left:
        by_body.setdefault(still.old[i].body, ([], []))[0].append(still.old[i])
    for j in still.right:
        if still.new[j].body in by_body:
            by_body[still.new[j].body][1].append(still.new[j])
    votes: Counter[tuple[float, float]] = Counter()
    for ours, theirs in by_body.values():
        some = ours
        if len(ours) * len(theirs) > _MOST_VOTES:
            some = ours[:: max(1, len(ours) // _SAMPLE)]
        steps = Counter((on_grid(b.x - a.x), on_grid(b.y - a.y)) for a in some for b in theirs)
        few = min(len(some), len(theirs))
        for step, count in steps.items():
            if math.hypot(*step) <= LARGEST_MOVE_MM or 2 * count > few:
                votes[step] += count
    return votes


def _nearest(still: _Open) -> list[tuple[int, int]]:
    left, right = list(still.left), list(still.right)
    if len(left) > _EXACT or len(right) > _EXACT:
        return _in_order(still)
    costs = [[_cost(still.old[i], still.new[j]) for j in right] for i in left]
    return [(left[i], right[j]) for i, j in cheapest(costs, LARGEST_MOVE_MM)]


def _cost(one: Traits, two: Traits) -> float:
    """Return how unlike two features are, as a distance in mm."""
    away = math.hypot(two.x - one.x, two.y - one.y)
    if one.body == two.body:
        return away
    kinds = {one.kind, two.kind}
    if len(kinds) > 1 and not kinds <= _BORED:
        return FORBIDDEN
    weight = CHANGED_COST_MM * (4.0 if len(kinds) > 1 else 1.0)
    ours, theirs = figures_of(one).lengths, figures_of(two).lengths
    if len(kinds) == 1 and len(ours) == len(theirs):
        sizes = sum(abs(a - b) for a, b in zip(ours, theirs, strict=True))
        weight += min(sizes, CHANGED_COST_MM)
    return CHANGED_FACTOR * away + weight


def _in_order(still: _Open) -> list[tuple[int, int]]:
    """Pair many features of equal size by their order along the leg, within the largest move."""
    by_body: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for j in sorted(still.right, key=lambda j: (still.new[j].x, still.new[j].y, j), reverse=True):
        by_body[still.new[j].body].append(j)
    found = []
    for i in sorted(still.left, key=lambda i: (still.old[i].x, still.old[i].y, i)):
        partners = by_body.get(still.old[i].body)
        if partners and _cost(still.old[i], still.new[partners[-1]]) <= LARGEST_MOVE_MM:
            found.append((i, partners.pop()))
    return found
