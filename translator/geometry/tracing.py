"""Take a leg's contour apart into ends, corner trims and notches.

The inverse of the walk: fillets are taken back to the corner they round, then the corners are
sorted into the heel, the far end, the toe and the start end. Nothing is decided here; where a
contour can be read in several ways, all of them are returned.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from msgspec import Struct

from translator.geometry import edges
from translator.geometry.contours import Contour, contour_edges
from translator.geometry.edges import Edge
from translator.model.trims import End

NEAR_MM: Final = 0.02
"""Places this near are the same in a contour that was rounded to 0.01 mm."""

COLLINEAR_MM: Final = 0.005
"""A corner this near to the line of its neighbours is none."""

_TANGENT_RAD: Final = 0.02
_MOST_TURN: Final = math.radians(175.0)


class Trace(Struct, frozen=True, kw_only=True):
    """A corner with its fillet taken back.

    Attributes:
        x: where the lines meet that the fillet joins.
        y: likewise.
        radius: of the fillet, 0 for a sharp corner.
        after_y: y at which the fillet ends, on the way of the contour.
    """

    x: float
    y: float
    radius: float
    after_y: float


class EndReading(Struct, frozen=True, kw_only=True):
    """One way to read an end: corners of the heel's trim, the end line, the toe's trim.

    Both trims are told from the edge to the end line and include the point on it: one corner
    (plain or rounded), two (a clip) or three (a cope).
    """

    heel: tuple[Trace, ...]
    toe: tuple[Trace, ...]

    @property
    def low(self) -> Trace:
        """The end line's point nearest the heel."""
        return self.heel[-1]

    @property
    def high(self) -> Trace:
        """The end line's point nearest the toe."""
        return self.toe[-1]


class NotchReading(Struct, frozen=True, kw_only=True):
    """A notch: its edge, walls, bottom and inside radius."""

    at_toe: bool
    left: float
    right: float
    bottom: float
    radius: float


class LegReading(Struct, frozen=True, kw_only=True):
    """All that a leg's contour can be read as; each end in its likeliest reading first."""

    start: tuple[EndReading, ...]
    far: tuple[EndReading, ...]
    notches: tuple[NotchReading, ...]

    def end(self, end: End) -> tuple[EndReading, ...]:
        """Return the readings of one end."""
        return self.start if end == "start" else self.far


def straightened(contour: Contour) -> Contour:
    """Leave out corners that lie on the straight line between their neighbours."""
    kept = list(contour)
    index = 0
    while index < len(kept) and len(kept) > 3:  # noqa: PLR2004
        before, here, after = kept[index - 1], kept[index], kept[(index + 1) % len(kept)]
        line = Edge(before.x_mm, before.y_mm, after.x_mm, after.y_mm, 0.0)
        away = edges.closest(line, here.x_mm, here.y_mm).distance
        if before.bulge == here.bulge == 0.0 and away <= COLLINEAR_MM:
            del kept[index]
        else:
            index += 1
    return tuple(kept)


def read_leg(contour: Contour, width: float) -> LegReading | None:
    """Take a counter-clockwise contour apart; None when it has not the form of a trimmed leg."""
    ring = traces(contour)
    heel = [i for i, trace in enumerate(ring) if abs(trace.y) <= NEAR_MM]
    toe = [i for i, trace in enumerate(ring) if abs(trace.y - width) <= NEAR_MM]
    if len(heel) < 2 or len(toe) < 2:  # noqa: PLR2004
        return None
    first = min(heel, key=lambda i: ring[i].x)
    last = max(heel, key=lambda i: ring[i].x)
    right = max(toe, key=lambda i: ring[i].x)
    left = min(toe, key=lambda i: ring[i].x)
    notches = [
        _notches(_stretch(ring, first, last), at_toe=False),
        _notches(_stretch(ring, right, left), at_toe=True),
    ]
    if notches[0] is None or notches[1] is None:
        return None
    far = _end_readings(_stretch(ring, last, right))
    start = _end_readings(_stretch(ring, left, first)[::-1])
    whole = sum(len(chain) for chain in _chains(ring, (first, last, right, left)))
    if not far or not start or whole != len(ring):
        return None
    return LegReading(start=start, far=far, notches=(*notches[0], *notches[1]))


def traces(contour: Contour) -> tuple[Trace, ...]:
    """Return the corners of a contour with each arc taken back to the corner it rounds."""
    every = contour_edges(contour)
    result: list[Trace] = []
    for index, edge in enumerate(every):
        before = every[index - 1]
        if not _is_smooth(before, edge):
            result.append(Trace(x=edge.ax, y=edge.ay, radius=0.0, after_y=edge.ay))
        if edge.bulge != 0.0:
            result.append(_unrounded(edge))
    return tuple(result)


def _is_smooth(before: Edge, after: Edge) -> bool:
    """Tell whether an edge goes on in the direction of the last one, an arc being one of them."""
    if before.bulge == after.bulge == 0.0:
        return False
    ax, ay = edges.end_direction(before)
    bx, by = edges.start_direction(after)
    slack = _TANGENT_RAD + sum(NEAR_MM / edges.chord(e) for e in (before, after) if e.bulge != 0.0)
    return abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) <= slack


def _unrounded(arc: Edge) -> Trace:
    turn = edges.turn(arc)
    dx, dy = edges.start_direction(arc)
    if abs(turn) > _MOST_TURN:
        return Trace(x=math.inf, y=math.inf, radius=edges.radius(arc), after_y=arc.by)
    # From the arc's start to the corner: half the chord over the cosine of half the turn.
    share = 0.5 / math.cos(turn / 2.0)
    return Trace(
        x=arc.ax + dx * share, y=arc.ay + dy * share, radius=edges.radius(arc), after_y=arc.by
    )


def _stretch(ring: Sequence[Trace], first: int, last: int) -> tuple[Trace, ...]:
    count = (last - first) % len(ring) + 1
    return tuple(ring[(first + step) % len(ring)] for step in range(count))


def _chains(ring: Sequence[Trace], marks: tuple[int, ...]) -> list[tuple[Trace, ...]]:
    """Return the four stretches between marks without their ends' repeats."""
    pairs = pairwise([*marks, marks[0]])
    return [_stretch(ring, first, last)[:-1] for first, last in pairs]


def _notches(edge: Sequence[Trace], *, at_toe: bool) -> tuple[NotchReading, ...] | None:
    """Read a long edge: between its ends nothing but notches, four corners each."""
    inner = edge[1:-1]
    if len(inner) % 4:
        return None
    result: list[NotchReading] = []
    for at in range(0, len(inner), 4):
        one, two, three, four = inner[at : at + 4]
        is_box = (
            abs(one.x - two.x) <= NEAR_MM
            and abs(three.x - four.x) <= NEAR_MM
            and abs(two.y - three.y) <= NEAR_MM
            and max(abs(one.y - edge[0].y), abs(four.y - edge[0].y)) <= NEAR_MM
            and one.radius == four.radius == 0.0
            and abs(two.radius - three.radius) <= NEAR_MM
        )
        if not is_box:
            return None
        result.append(
            NotchReading(
                at_toe=at_toe,
                left=min(one.x, four.x),
                right=max(one.x, four.x),
                bottom=two.after_y,
                radius=two.radius,
            )
        )
    return tuple(result)


def _end_readings(chain: Sequence[Trace]) -> tuple[EndReading, ...]:
    """Read an end, told from heel to toe: a trim of 0 to 2 edges, the end line, a trim."""
    readings: list[EndReading] = []
    for before in range(3):
        after = len(chain) - 2 - before
        if not 0 <= after <= 2:  # noqa: PLR2004
            continue
        heel, toe = tuple(chain[: before + 1]), tuple(chain[:before:-1])
        if _is_trim(heel) and _is_trim(toe) and toe[-1].y - heel[-1].y > NEAR_MM:
            readings.append(EndReading(heel=heel, toe=toe))
    return tuple(sorted(readings, key=_unlikeliness))


def _is_trim(corners: Sequence[Trace]) -> bool:
    """Tell whether corners, from the edge to the end line, are plain, rounded, clip or cope."""
    if len(corners) == 1:
        return math.isfinite(corners[0].x)
    if corners[0].radius or corners[-1].radius:
        return False
    if len(corners) == 2:  # noqa: PLR2004
        return True
    edge, inside, end = corners
    return abs(edge.x - inside.x) <= NEAR_MM and abs(inside.y - end.y) <= NEAR_MM


def _unlikeliness(reading: EndReading) -> tuple[bool, float]:
    """Sort square ends first, then the longer end line."""
    dx, dy = reading.high.x - reading.low.x, reading.high.y - reading.low.y
    return (abs(dx) > NEAR_MM, -math.hypot(dx, dy))
