"""Distance from holes to the ends and edges of a leg, as each code measures it."""

import math
from collections.abc import Iterator
from functools import lru_cache
from typing import Final, Literal

from msgspec import Struct

from translator.geometry.boundary import Boundary
from translator.geometry.clearance import slot_centres
from translator.geometry.contours import contour_edges
from translator.geometry.edges import Edge
from translator.model import Angle, Hole, Opening, Slot
from translator.rules._bolts import Bolted, MeantBolt, least_width
from translator.rules._facts import (
    Facts,
    FreeEdges,
    named,
    path_of,
)
from translator.rules._limits import is_less, shop_limit, weight, whose, words
from translator.rules._rule import Violation
from translator.tables.edge_distances import Opening as OpeningClass
from translator.tables.edge_distances import (
    edge_distance_for_approval,
    edge_distance_min,
    edge_increment_c2,
)
from translator.tables.eurocode_distances import eurocode_minimum
from translator.tables.figures import Limit
from translator.tables.holes import classify_hole, classify_slot

Kind = Literal["end", "edge"]

_Size = tuple[float, str | None, str, str]
"""What the limits of a hole depend on: diameter and thread, name and code of its bolt."""

_DIAGONAL: Final = math.cos(math.radians(45.0))


_ROUNDING_MM: Final = 1e-6
"""More than two ways of working out one distance can differ by."""


class Near(Struct, frozen=True, kw_only=True):
    """How a hole lies to the nearest edge of a kind.

    Attributes:
        centre_mm: from the centre of a hole, the middle of a slot.
        core_mm: from the nearest point of a slot's axis between its end radii.
        is_ahead: whether a slot points at that edge rather than running beside it.
    """

    centre_mm: float
    core_mm: float
    is_ahead: bool


def faces_other_leg(facts: Facts, one: Bolted) -> bool:
    """Tell whether the other leg of an angle stands where a hole is, and is not cut away."""
    section = facts.part.section
    if not isinstance(section, Angle):
        return False
    other = facts.boundaries.get("b" if one.leg == "a" else "a")
    past_fillet = section.thickness_mm + section.root_radius_mm
    return other is None or other.contains(one.feature.x_mm, past_fillet)


def near(feature: Hole | Slot, edges: Boundary) -> Near:
    """Measure how a hole or slot lies to some edges of its leg."""
    point = edges.nearest(feature.x_mm, feature.y_mm)
    if isinstance(feature, Hole):
        return Near(centre_mm=point.distance, core_mm=point.distance, is_ahead=False)
    (ax, ay), (bx, by) = slot_centres(feature)
    core = Edge(ax, ay, bx, by, 0.0)
    along = abs((point.x - feature.x_mm) * (bx - ax) + (point.y - feature.y_mm) * (by - ay))
    # A slot at 45 degrees is taken as running beside the edge, for which less is asked.
    is_ahead = along > (_DIAGONAL + 1e-9) * point.distance * math.hypot(bx - ax, by - ay)
    return Near(centre_mm=point.distance, core_mm=edges.gap(core), is_ahead=is_ahead)


def steel_left(feature: Hole | Slot | Opening, free: FreeEdges) -> float:
    """Return the steel between the edge of a cut-out and the free edges of its leg."""
    if isinstance(feature, Opening):
        core, radius = contour_edges(feature.contour), 0.0
    elif isinstance(feature, Slot):
        (ax, ay), (bx, by) = slot_centres(feature)
        core, radius = [Edge(ax, ay, bx, by, 0.0)], feature.width_mm / 2.0
    else:
        x, y = feature.x_mm, feature.y_mm
        core, radius = [Edge(x, y, x, y, 0.0)], feature.diameter_mm / 2.0
    edges = [e for e in (free.ends, free.sides) if e is not None]
    return min((e.gap(part) for e in edges for part in core), default=math.inf) - radius


def short_distances(facts: Facts, kind: Kind, rule: str) -> Iterator[Violation]:
    """Yield each hole that is too near to an end, or to an edge along the piece."""
    most: dict[_Size, float] = {}
    for one in facts.bolted:
        free = facts.free_edges[one.leg]
        edges = free.ends if kind == "end" else free.sides
        if edges is None:
            continue
        if _is_clear(facts, one, rule, most):
            continue
        place = near(one.feature, edges)
        value = place.core_mm if _is_to_core(one) else place.centre_mm
        for limit in _limits(facts, one, place, rule):
            if is_less(value, limit):
                yield Violation(
                    message=_message(facts, one, kind, value, limit),
                    element=path_of(one.leg, one.feature),
                    value=value,
                    limit=limit.mm,
                    severity=weight(limit.source, one.bolt),
                )
                break


def _is_clear(facts: Facts, one: Bolted, rule: str, most: dict[_Size, float]) -> bool:
    """Tell whether a hole is too far from its whole outline for any limit to speak.

    Most are, and no edge is nearer than the nearest: so ends and sides need not be searched.
    ``most`` keeps the largest limit of each size of hole.
    """
    hole, bolt = one.feature, one.bolt
    if not isinstance(hole, Hole):
        return False
    least = one.centre_mm - _ROUNDING_MM
    size = (hole.diameter_mm, hole.thread, bolt.name, bolt.code)
    if size not in most:
        place = Near(centre_mm=least, core_mm=least, is_ahead=False)
        most[size] = max((limit.mm for limit in _limits(facts, one, place, rule)), default=0.0)
    return least >= most[size]


def _is_to_core(one: Bolted) -> bool:
    """Tell whether the distance of a slot counts from its axis: e3 and e4 of EN 1993-1-8."""
    return one.bolt.code == "eu" and isinstance(one.feature, Slot)


def _message(facts: Facts, one: Bolted, kind: Kind, value: float, limit: Limit) -> str:
    what = "the axis of " if _is_to_core(one) else ""
    text = (
        f"{what}{named(one.feature)} is {facts.length(value)} from the {kind}, less than"
        f" {words(facts, limit)} {whose(limit.source, one.bolt)}"
    )
    if one.bolt.code == "us":
        approval = edge_distance_for_approval(one.bolt.name, one.bolt.edition)
        if is_less(value, approval):
            text += "; less than the bolt's diameter, which the engineer of record must approve"
    return text


def _limits(facts: Facts, one: Bolted, place: Near, rule: str) -> Iterator[Limit]:
    """Yield the figures to hold a distance against, the surer one first."""
    width = least_width(one.feature)
    own = shop_limit(facts, rule, bolts=(one.bolt,), hole_mm=width)
    if own is not None:
        yield own
    elif one.bolt.code == "eu":
        yield eurocode_minimum("e3" if isinstance(one.feature, Slot) else "e1", width)
    else:
        feature, bolt = one.feature, one.bolt
        length = feature.length_mm if isinstance(feature, Slot) else None
        opening = _opening(feature, bolt, is_ahead=place.is_ahead)
        yield from _us_limits(bolt.name, opening, bolt.edition, length)


@lru_cache(maxsize=1024)
def _us_limits(
    bolt: str, opening: OpeningClass, edition: str, slot_length_mm: float | None
) -> tuple[Limit, ...]:
    base = edge_distance_min(bolt, "us", edition)
    if base is None:
        return ()
    more = edge_increment_c2(bolt, opening, edition, slot_length_mm=slot_length_mm)
    return (base, base.plus(more)) if more is not None and more.mm > 0.0 else (base,)


def _opening(feature: Hole | Slot, bolt: MeantBolt, *, is_ahead: bool) -> OpeningClass:
    if isinstance(feature, Hole):
        size = classify_hole(feature.diameter_mm, bolt.name, "us", bolt.edition)
        is_large = size in ("oversize", "too-large") and feature.thread is None
        return "oversize" if is_large else "standard"
    if not is_ahead:
        return "slot-along"
    slot = classify_slot(feature.width_mm, feature.length_mm, bolt.name, "us", bolt.edition)
    return "long-slot-across" if slot in ("long", "too-long") else "short-slot-across"
