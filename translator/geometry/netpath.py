"""Net area: the worst way across a piece through its holes, on the unfolded section.

It is geometry, not design: nothing here knows which holes share a force, how a force flows
into the piece, or what the steel bears.

An angle is laid flat at the middle of its thickness, so that two holes in opposite legs lie
g1 + g2 - t apart across. A way runs from edge to edge through holes that follow each other
across the section. Each hole takes its width across times the thickness; each step that also
goes s along the piece gives back s^2 t / (4 g), g being the step across (AISC 360 B4.3b;
EN 1993-1-1 6.2.2.2, which calls it p, from memory). Cuts at ends and edges are not looked at:
the gross area is that of the whole section.
"""

import math
from bisect import bisect_left, insort
from collections.abc import Sequence
from itertools import pairwise
from operator import itemgetter
from typing import Final, Literal, NamedTuple

from msgspec import Struct

from translator.geometry.at_hand import at_hand
from translator.geometry.clearance import Extent, extent
from translator.geometry.sections import section_area_mm2
from translator.model import Hole, LegName, Opening, Part, Slot, leg_names, leg_of

Convention = Literal["aisc", "en"]
"""``aisc``: a hole or slot counts 1/16 in. wider than it is, 2 mm in a metric part (AISC 360
B4.3b). ``en``: as wide as it is (EN 1993-1-1 6.2.2.2, from memory)."""

CONVENTIONS: Final[tuple[Convention, ...]] = ("aisc", "en")

ALLOWANCE_INCH_MM: Final = 25.4 / 16.0
ALLOWANCE_METRIC_MM: Final = 2.0

MOST_STEPS: Final = 250_000
"""Steps between two holes that are tried at most; thousands of holes on gauge lines need far
fewer."""

Way = tuple[tuple[LegName, str], ...]
"""Leg and feature id of each hole, in the order of the unfolded section from leg a's toe."""


class NetPath(Struct, frozen=True, kw_only=True):
    """One way across the piece and what is left of the section along it, mm2.

    Attributes:
        convention: how wide a hole counts.
        gross_area_mm2: of the whole section.
        holes_mm2: what the holes of the way take.
        staggers_mm2: what its steps along the piece give back.
        net_area_mm2: gross less holes plus staggers, and no less than 0.
        path: the way; empty when no hole makes the section weaker.
    """

    convention: Convention
    gross_area_mm2: float
    holes_mm2: float
    staggers_mm2: float
    net_area_mm2: float
    path: Way


class _Crossing(NamedTuple):
    """A hole on the unfolded section: across, along, whose it is, what it takes."""

    u: float
    x: float
    leg: LegName
    name: str
    taken: float


_Place = tuple[float, float, LegName, str, Hole | Slot | Opening, float]


def net_path(part: Part, convention: Convention) -> NetPath | None:
    """Return the way that leaves the least of the section.

    Of ways that leave the same one is told, always the same one for the same part.

    Returns:
        The worst way; None where that would take too long to tell (thousands of holes close
        together).
    """
    found = _worst(_crossings(part, convention), part.section.thickness_mm)
    return None if found is None else _along(part, convention, found)


def net_path_along(part: Part, path: Way, convention: Convention) -> NetPath:
    """Return what is left along one way.

    Args:
        part: the piece.
        path: leg and id of each hole, in the order of the unfolded section.
        convention: how wide a hole counts.

    Raises:
        ValueError: for a way that names no hole of the part, or does not go on across.
    """
    known = {(c.leg, c.name): c for c in _crossings(part, convention)}
    if missing := [name for leg, name in path if (leg, name) not in known]:
        raise ValueError(f"{missing[0]} takes nothing out of the section")
    way = [known[step] for step in path]
    if any(two.u <= one.u for one, two in pairwise(way)):
        raise ValueError("a way goes on across the section from hole to hole")
    return _along(part, convention, way)


def _along(part: Part, convention: Convention, way: Sequence[_Crossing]) -> NetPath:
    gross = section_area_mm2(part.section)
    thickness = part.section.thickness_mm
    holes = math.fsum(crossing.taken for crossing in way)
    staggers = math.fsum(_given_back(one, two, thickness) for one, two in pairwise(way))
    return NetPath(
        convention=convention,
        gross_area_mm2=gross,
        holes_mm2=holes,
        staggers_mm2=staggers,
        net_area_mm2=max(0.0, gross - holes + staggers),
        path=tuple((crossing.leg, crossing.name) for crossing in way),
    )


def _given_back(one: _Crossing, two: _Crossing, thickness: float) -> float:
    return (two.x - one.x) ** 2 * thickness / (4.0 * (two.u - one.u))


def _crossings(part: Part, convention: Convention) -> list[_Crossing]:
    """Return all holes in the order of the unfolded section, then along the piece."""
    thickness = part.section.thickness_mm
    allowance = 0.0
    if convention == "aisc":
        allowance = ALLOWANCE_INCH_MM if part.units == "inch" else ALLOWANCE_METRIC_MM
    return [
        _Crossing(u, x, leg, name, _taken(feature, across, thickness, allowance))
        for u, x, leg, name, feature, across in _on_section(part)
    ]


@at_hand(2)
def _on_section(part: Part) -> tuple[_Place, ...]:
    """Return where each hole lies on the unfolded section, in order, and its width across.

    It is the same under both conventions, which are asked one after the other.
    """
    found: list[_Place] = []
    for leg in leg_names(part):
        fold = 0.0 if leg == "face" else part.section.thickness_mm / 2.0
        side = -1.0 if leg == "a" else 1.0
        for feature in leg_of(part, leg).features:
            if isinstance(feature, Hole | Slot | Opening):
                box = extent(feature)
                x, y = _middle(feature, box)
                found.append((side * (y - fold), x, leg, feature.id, feature, box.high - box.low))
    return tuple(sorted(found, key=itemgetter(0, 1, 2, 3)))


def _middle(feature: Hole | Slot | Opening, box: Extent) -> tuple[float, float]:
    if isinstance(feature, Opening):
        return (box.left + box.right) / 2.0, (box.low + box.high) / 2.0
    return feature.x_mm, feature.y_mm


def _taken(
    feature: Hole | Slot | Opening, across: float, thickness: float, allowance: float
) -> float:
    """Return what a feature takes out of the section through its middle, mm2.

    A slot counts by its extent across the piece, an opening too; a blind hole as deep as it
    is; a countersink with the two triangles it takes beside its hole.
    """
    if not isinstance(feature, Hole | Slot):
        return across * thickness
    depth = thickness if feature.depth_mm is None else min(feature.depth_mm, thickness)
    taken = (across + allowance) * depth
    return taken + _sink(feature, depth) if isinstance(feature, Hole) else taken


def _sink(hole: Hole, depth: float) -> float:
    wide, angle = hole.countersink_diameter_mm, hole.countersink_angle_deg
    if wide is None or angle is None or wide <= hole.diameter_mm or not 0.0 < angle < 180.0:  # noqa: PLR2004 - a cone
        return 0.0
    slope = math.tan(math.radians(angle) / 2.0)
    outside = (wide - hole.diameter_mm) / 2.0
    deep = min(depth, outside / slope)
    return deep * (2.0 * outside - deep * slope)


def _worst(ordered: Sequence[_Crossing], thickness: float) -> list[_Crossing] | None:
    """Return the way that takes most; None when that takes too long to tell."""
    search = _Search(ordered, thickness)
    if not all(search.go_on() for _ in ordered):
        return None
    return search.way()


class _Search:
    """The ways across, hole by hole from the first edge.

    The most that any way ending in a hole takes is what the hole itself takes plus the best
    of: nothing before it, or any hole before it across, less what the step gives back.
    """

    def __init__(self, ordered: Sequence[_Crossing], thickness: float) -> None:
        self._ordered = ordered
        self._thickness = thickness
        self._taken: list[float] = []
        self._before: list[int] = []
        self._by_x: list[tuple[float, int]] = []
        self._most = 0.0
        self._steps = 0

    def go_on(self) -> bool:
        """Follow all ways to the next hole; False when too many steps were tried."""
        index = len(self._taken)
        gain, last = self._best_step(self._ordered[index])
        self._taken.append(self._ordered[index].taken + gain)
        self._before.append(last)
        insort(self._by_x, (self._ordered[index].x, index))
        self._most = max(self._most, self._taken[-1])
        return self._steps <= MOST_STEPS

    def way(self) -> list[_Crossing]:
        """Return the way that takes most of those followed."""
        index = max(range(len(self._taken)), key=self._taken.__getitem__, default=-1)
        way: list[_Crossing] = []
        while index >= 0:
            way.append(self._ordered[index])
            index = self._before[index]
        return way[::-1]

    def _best_step(self, here: _Crossing) -> tuple[float, int]:
        """Return the best gain of a step to a hole, and the hole it comes from (-1: none).

        Holes are tried outwards from the hole's own x. Nothing farther off can gain more than
        the most that any way takes, less what a step over the whole section so far gives back
        at that distance; so the search ends soon.
        """
        gain, last, known = 0.0, -1, self._by_x
        span = here.u - self._ordered[0].u
        low = bisect_left(known, (here.x, -1)) - 1
        high = low + 1
        while span > 0.0 and (low >= 0 or high < len(known)):
            left = here.x - known[low][0] if low >= 0 else math.inf
            right = known[high][0] - here.x if high < len(known) else math.inf
            if self._most - min(left, right) ** 2 * self._thickness / (4.0 * span) <= gain:
                break
            self._steps += 1
            if left < right:
                other, low = known[low][1], low - 1
            else:
                other, high = known[high][1], high + 1
            before = self._ordered[other]
            if before.u < here.u:
                found = self._taken[other] - _given_back(before, here, self._thickness)
                if found > gain:
                    gain, last = found, other
        return gain, last
