"""Does a closed polygon cross itself? A sweep that meets each pair of neighbours once.

Shamos and Hoey's method: points are whole numbers of the grid of 0.000001 mm, so every
question of side is answered exactly, and the time grows as n log n however the edges lie.
"""

from collections.abc import Sequence
from typing import Final

from translator.lengths.grid import MM_DECIMALS

Point = tuple[int, int]
Segment = tuple[Point, Point]

_SCALE: Final = 10**MM_DECIMALS
_FEWEST = 3


def snapped(x: float, y: float) -> Point:
    """Return a point as whole numbers of the grid."""
    return (round(x * _SCALE), round(y * _SCALE))


def is_spike(before: Point, here: Point, after: Point) -> bool:
    """Tell whether the way from ``here`` to ``after`` runs back over the way that led there."""
    if _turn(before, here, after) != 0:
        return False
    return (before[0] - here[0]) * (after[0] - here[0]) + (before[1] - here[1]) * (
        after[1] - here[1]
    ) > 0


def is_simple(points: Sequence[tuple[float, float]]) -> bool:
    """Tell whether the closed polygon through the points neither crosses nor touches itself.

    Points that fall on the same place of the grid one after another count once.
    """
    ring: list[Point] = []
    for x, y in points:
        here = snapped(x, y)
        if not ring or ring[-1] != here:
            ring.append(here)
    while len(ring) > 1 and ring[0] == ring[-1]:
        ring.pop()
    if len(ring) < _FEWEST or len(set(ring)) < len(ring):
        return False
    return _sweep(ring)


def _sweep(ring: list[Point]) -> bool:
    """Run a line over the polygon from left to right, keeping the edges it meets by height.

    Returns:
        False at the first pair of edges that share more than a common end.
    """
    count = len(ring)
    segments: list[Segment] = []
    events: list[tuple[Point, int, int]] = []
    for index in range(count):
        a, b = ring[index], ring[(index + 1) % count]
        left, right = (a, b) if a < b else (b, a)
        segments.append((left, right))
        events.append((left, 1, index))
        events.append((right, 0, index))
    events.sort()
    status: list[int] = []
    for _, is_left, index in events:
        step = _insert if is_left else _remove
        if not step(status, segments, index):
            return False
    return True


def _insert(status: list[int], segments: list[Segment], index: int) -> bool:
    left, right = segments[index]
    low, high = 0, len(status)
    while low < high:
        middle = (low + high) // 2
        other = segments[status[middle]]
        height = _turn(other[0], other[1], left)
        if height == 0 and other[0] == left:
            height = _turn(other[0], other[1], right)
        if height == 0:
            return False
        if height > 0:
            low = middle + 1
        else:
            high = middle
    status.insert(low, index)
    return (low == 0 or _are_apart(segments, status[low - 1], index)) and (
        low + 1 == len(status) or _are_apart(segments, index, status[low + 1])
    )


def _remove(status: list[int], segments: list[Segment], index: int) -> bool:
    point = segments[index][1]
    low, high = 0, len(status)
    while low < high:
        middle = (low + high) // 2
        other = segments[status[middle]]
        if _turn(other[0], other[1], point) > 0:
            low = middle + 1
        else:
            high = middle
    is_there = low < len(status) and status[low] == index
    place = low if is_there else status.index(index)
    del status[place]
    return not 0 < place < len(status) or _are_apart(segments, status[place - 1], status[place])


def _are_apart(segments: list[Segment], one: int, two: int) -> bool:
    """Tell whether two edges share no point other than the end that joins neighbours."""
    p, q = segments[one], segments[two]
    if abs(one - two) in (1, len(segments) - 1):
        shared = p[0] if p[0] in q else p[1]
        far_p = p[1] if shared == p[0] else p[0]
        far_q = q[1] if shared == q[0] else q[0]
        return not is_spike(far_p, shared, far_q)
    return not _meet(p, q)


def _meet(p: Segment, q: Segment) -> bool:
    """Tell whether two edges that the sweep holds at one time share a point.

    Two that lie on one line do, since neither ends before the other begins.
    """
    a, b = _turn(*p, q[0]), _turn(*p, q[1])
    c, d = _turn(*q, p[0]), _turn(*q, p[1])
    return _sign(a) * _sign(b) <= 0 and _sign(c) * _sign(d) <= 0


def _sign(value: int) -> int:
    return (value > 0) - (value < 0)


def _turn(a: Point, b: Point, c: Point) -> int:
    """Return more than 0 where a, b, c turn left, less where they turn right."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
