"""Pairs of holes, slots and openings of one leg that lie close together, or at one place."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.geometry.clearance import Extent, clear_distance, extent
from translator.geometry.contours import bounds
from translator.model import CentreMark, Feature, Hole, LegName, Opening, Slot

MOST_PAIRS: Final = 100_000
"""Pairs compared on one leg; real pieces have a few dozen neighbours, a hostile file millions."""

MOST_CLOSE: Final = 10_000
"""Pairs measured on one leg to see how close they are."""

_MOST_CELLS: Final = 256

SAME_PLACE_MM: Final = 0.01
"""Two features this near to each other lie at one place: the last decimal of an NC file."""

_BESIDE: Final = (-1, 0, 1)

_FEW: Final = 24
"""Cut-outs on a leg that are compared each with each."""

CutOut = Hole | Slot | Opening


class Pair(Struct, frozen=True, kw_only=True):
    """Two cut-outs of a leg, the second later in the part's order.

    Attributes:
        leg: that both are on.
        first: the earlier one.
        second: the later one.
        clear_mm: between their edges; less than 0 where they overlap.
        along_mm: between their centres, along the piece.
        across_mm: between their centres, across the leg.
    """

    leg: LegName
    first: CutOut
    second: CutOut
    clear_mm: float
    along_mm: float
    across_mm: float

    @property
    def apart_mm(self) -> float:
        """Distance of their centres, the straight way."""
        return math.hypot(self.along_mm, self.across_mm)


def close_pairs(
    leg: LegName, cut_outs: Sequence[CutOut], reach_mm: float
) -> tuple[tuple[Pair, ...], bool]:
    """Return the pairs with less than a distance between their edges, and whether these are all.

    Pairs come in the order of the later one, then of the earlier one.
    """
    found: list[tuple[int, int, Pair]] = []
    few = len(cut_outs) <= _FEW
    near = _few_neighbours(cut_outs, reach_mm) if few else neighbours(cut_outs, reach_mm)
    for number, (i, j) in enumerate(near):
        if number == MOST_CLOSE:
            return _sorted(found), False
        clear = _clear(cut_outs[i], cut_outs[j])
        if clear < reach_mm:
            (ax, ay), (bx, by) = centre(cut_outs[i]), centre(cut_outs[j])
            pair = Pair(
                leg=leg,
                first=cut_outs[i],
                second=cut_outs[j],
                clear_mm=clear,
                along_mm=abs(ax - bx),
                across_mm=abs(ay - by),
            )
            found.append((j, i, pair))
    return _sorted(found), True


def neighbours(cut_outs: Sequence[CutOut], reach_mm: float = 0.0) -> Iterator[tuple[int, int]]:
    """Yield pairs that share a square of a net as wide as the usual feature, once.

    What covers very many squares is paired with everything. The lesser number comes first. No
    two with less than the reach between them are left out.
    """
    boxes = [_wider(extent(f), reach_mm / 2.0) for f in cut_outs]
    if not boxes:
        return
    widths = sorted(max(b.right - b.left, b.high - b.low) for b in boxes)
    # The median, without the library of statistics, whose loading takes longer than the rules.
    pitch = max(1.0, (widths[(len(widths) - 1) // 2] + widths[len(widths) // 2]) / 2)
    net: dict[tuple[int, int], list[int]] = {}
    wide: list[int] = []
    for j, box in enumerate(boxes):
        cells = _cells(box, pitch)
        near = range(j) if cells is None else (*wide, *(i for c in cells for i in net.get(c, ())))
        for i in dict.fromkeys(near):
            yield i, j
        if cells is None:
            wide.append(j)
        else:
            for cell in cells:
                net.setdefault(cell, []).append(j)


def _few_neighbours(cut_outs: Sequence[CutOut], reach_mm: float) -> Iterator[tuple[int, int]]:
    """Yield the pairs whose boxes come within the reach of each other, without a net."""
    if len(cut_outs) < 2:  # noqa: PLR2004 - a pair
        return
    boxes = [extent(f) for f in cut_outs]
    for j, two in enumerate(boxes):
        left, low, right, high = (
            two.left - reach_mm,
            two.low - reach_mm,
            two.right + reach_mm,
            two.high + reach_mm,
        )
        for i, one in enumerate(boxes[:j]):
            if one.left <= right and left <= one.right and one.low <= high and low <= one.high:
                yield i, j


def repeated(features: Iterable[tuple[LegName, Feature]]) -> Mapping[str, Feature]:
    """Return the id of each feature that repeats an earlier one on its leg -> the earlier one.

    Places are compared to 0.01 mm, by squares of a net so that time grows with the number of
    features only. The net is kept column by column, most of which have nothing beside them.
    """
    net: dict[int, dict[tuple[object, ...], Feature]] = {}
    found: dict[str, Feature] = {}
    for leg, feature in features:
        if not isinstance(feature, Hole | Slot | Opening | CentreMark):
            continue
        x, y = centre(feature)
        kind = (leg, *_sizes(feature))
        column, row = round(x / SAME_PLACE_MM), round(y / SAME_PLACE_MM)
        near = [net[column + i] for i in _BESIDE if column + i in net]
        keys = [(*kind, row + j) for j in _BESIDE] if near else ()
        first = next((known[key] for known in near for key in keys if key in known), None)
        if first is None:
            net.setdefault(column, {})[*kind, row] = feature
        else:
            found[feature.id] = first
    return found


def _sizes(feature: Hole | Slot | Opening | CentreMark) -> tuple[object, ...]:
    """Return what besides its place makes a feature, sizes to 0.01 mm."""
    if isinstance(feature, Hole):
        return feature.kind, round(feature.diameter_mm, 2), feature.depth_mm
    if isinstance(feature, Slot):
        size = round(feature.width_mm, 2), round(feature.length_mm, 2)
        return feature.kind, *size, round(feature.angle_deg, 2), feature.depth_mm
    if isinstance(feature, Opening):
        left, low, right, high = bounds(feature.contour)
        return feature.kind, round(right - left, 2), round(high - low, 2), len(feature.contour)
    return (feature.kind,)


def centre(feature: CutOut | CentreMark) -> tuple[float, float]:
    """Return the centre of a feature, of an opening the middle of the box around it."""
    if isinstance(feature, Opening):
        left, low, right, high = bounds(feature.contour)
        return (left + right) / 2.0, (low + high) / 2.0
    return feature.x_mm, feature.y_mm


def _clear(one: CutOut, two: CutOut) -> float:
    if isinstance(one, Hole) and isinstance(two, Hole):
        apart = math.hypot(one.x_mm - two.x_mm, one.y_mm - two.y_mm)
        return apart - (one.diameter_mm + two.diameter_mm) / 2.0
    return clear_distance(one, two)


def _sorted(found: list[tuple[int, int, Pair]]) -> tuple[Pair, ...]:
    return tuple(pair for *_, pair in sorted(found, key=lambda item: item[:2]))


def _wider(box: Extent, by_mm: float) -> Extent:
    return Extent(
        left=box.left - by_mm,
        low=box.low - by_mm,
        right=box.right + by_mm,
        high=box.high + by_mm,
    )


def _cells(box: Extent, pitch: float) -> list[tuple[int, int]] | None:
    left, right = math.floor(box.left / pitch), math.floor(box.right / pitch)
    low, high = math.floor(box.low / pitch), math.floor(box.high / pitch)
    if (right - left + 1) * (high - low + 1) > _MOST_CELLS:
        return None
    return [(x, y) for x in range(left, right + 1) for y in range(low, high + 1)]
