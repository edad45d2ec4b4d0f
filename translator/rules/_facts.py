"""Facts of a part that rules share: its geometry, worked out once, and its words."""

from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.geometry.boundary import Boundary, boundary, some_edges
from translator.geometry.clearance import EdgeDistance, edge_distance, extent
from translator.geometry.edges import Edge
from translator.geometry.outline import LegOutline, leg_outline
from translator.lengths.spell import inch_text
from translator.model import (
    Angle,
    CentreMark,
    Feature,
    Hole,
    LegName,
    Opening,
    OutlineTrim,
    Part,
    Slot,
    Stamp,
    feature_path,
    leg_names,
    leg_of,
)
from translator.model.trims import Trim
from translator.rules._bolts import Bolted, MeantBolt, is_made, meant_bolts
from translator.rules._pairs import SAME_PLACE_MM, CutOut, Pair, close_pairs, repeated
from translator.rules._practice import Practice

_KINDS: Final[Mapping[str, str]] = MappingProxyType(
    {"centre_mark": "centre mark", "scribe": "scribed line"}
)
_MM_PER_INCH: Final = 25.4

HALF_LAST_DECIMAL_MM: Final = 0.005
"""Half the last decimal of an NC file: what is off by less may be rounding."""

_REACH_OF_RULES: Final = 2.0
"""No spacing of the codes leaves more than this many bolts' diameters between two holes."""


_LEAST_REACH_MM: Final = 1.0
"""Pairs this close are always told of, however thin the steel: whether they touch is asked."""


class FreeEdges(Struct, frozen=True, kw_only=True):
    """The edges of a leg to keep away from, None where there is none of a kind.

    Attributes:
        ends: what runs more across the piece than along it: end cuts, the sides of copes.
        sides: what runs along it.
    """

    ends: Boundary | None
    sides: Boundary | None


class Facts:
    """One part and what follows from it; every figure is worked out when first asked for.

    Attributes:
        part: the part under check.
        practice: what it is judged by.
    """

    def __init__(self, part: Part, practice: Practice | None = None) -> None:
        self.part = part
        self.practice = Practice() if practice is None else practice

    @cached_property
    def outlines(self) -> Mapping[LegName, LegOutline]:
        """The outline of each leg, with what keeps it from being made."""
        return {leg: leg_outline(self.part, leg) for leg in leg_names(self.part)}

    @cached_property
    def features(self) -> tuple[tuple[LegName, Feature], ...]:
        """All features with their legs, in the part's order."""
        part = self.part
        return tuple((leg, f) for leg in leg_names(part) for f in leg_of(part, leg).features)

    @cached_property
    def drilled(self) -> tuple[tuple[LegName, Hole | Slot], ...]:
        """All holes and slots with their legs, in the part's order."""
        return tuple((leg, f) for leg, f in self.features if isinstance(f, Hole | Slot))

    @cached_property
    def holes(self) -> tuple[tuple[LegName, Hole], ...]:
        """All round holes with their legs, in the part's order."""
        return tuple((leg, f) for leg, f in self.drilled if isinstance(f, Hole))

    @cached_property
    def slots(self) -> tuple[tuple[LegName, Slot], ...]:
        """All slots with their legs, in the part's order."""
        return tuple((leg, f) for leg, f in self.drilled if isinstance(f, Slot))

    @cached_property
    def stamps(self) -> tuple[tuple[LegName, Stamp], ...]:
        """All stamps with their legs, in the part's order."""
        return tuple((leg, f) for leg, f in self.features if isinstance(f, Stamp))

    @cached_property
    def trims(self) -> tuple[tuple[LegName, int, Trim], ...]:
        """All trims with their legs and numbers, in the part's order."""
        part = self.part
        return tuple(
            (leg, index, trim)
            for leg in leg_names(part)
            for index, trim in enumerate(leg_of(part, leg).trims)
        )

    @cached_property
    def boundaries(self) -> Mapping[LegName, Boundary]:
        """The boundary of each leg whose outline is sound; the others are missing.

        What lies off an outline that can't be made is not worth saying.
        """
        return {
            leg: boundary(outline.contour)
            for leg, outline in self.outlines.items()
            if outline.contour and not outline.faults
        }

    @cached_property
    def edge_distances(self) -> tuple[tuple[LegName, Feature, EdgeDistance], ...]:
        """How each feature lies to the outline, on legs whose outline is sound."""
        return tuple(
            (leg, feature, edge_distance(feature, self.boundaries[leg]))
            for leg, feature in self.features
            if leg in self.boundaries
        )

    @cached_property
    def free_edges(self) -> Mapping[LegName, FreeEdges]:
        """The edges of each leg whose outline is sound, those of the heel line left out.

        The heel is no edge to keep away from: there the other leg goes on.
        """
        is_angle = isinstance(self.part.section, Angle)
        return {leg: _free_edges(b, is_angle=is_angle) for leg, b in self.boundaries.items()}

    @cached_property
    def bolts(self) -> Mapping[str, MeantBolt]:
        """The bolt of each hole and slot that one goes through, by id; see ``meant_bolts``."""
        return meant_bolts(self.drilled, self.part.units, self.practice)

    @cached_property
    def bolted(self) -> tuple[Bolted, ...]:
        """The holes and slots for bolts that other rules find nothing worse about.

        What lies off its leg, breaks an edge or is given twice is said elsewhere.
        """
        bolts, repeats, length = self.bolts, self.repeats, self.part.length_mm
        return tuple(
            Bolted(
                leg=leg,
                feature=feature,
                bolt=bolts[feature.id],
                centre_mm=distance.centre_mm,
            )
            for leg, feature, distance in self.edge_distances
            if feature.id in bolts
            and isinstance(feature, Hole | Slot)
            and distance.centre_mm >= -HALF_LAST_DECIMAL_MM
            and distance.edge_mm >= HALF_LAST_DECIMAL_MM
            and feature.id not in repeats
            and not is_past_end(feature, length)
        )

    @cached_property
    def cut_outs(self) -> Mapping[LegName, tuple[CutOut, ...]]:
        """The holes, slots and openings made on each leg, each once though it is given twice."""
        return {
            leg: tuple(
                f
                for name, f in self.features
                if name == leg and isinstance(f, CutOut) and f.id not in self.repeats and is_made(f)
            )
            for leg in leg_names(self.part)
        }

    @cached_property
    def pairs(self) -> tuple[Pair, ...]:
        """Cut-outs of one leg that are close enough to each other for any rule to speak."""
        return tuple(pair for found, _ in self._close_pairs.values() for pair in found)

    @cached_property
    def uncompared(self) -> tuple[LegName, ...]:
        """Legs with so many holes close together that not all pairs were compared."""
        return tuple(leg for leg, (_, is_all) in self._close_pairs.items() if not is_all)

    @cached_property
    def _close_pairs(self) -> Mapping[LegName, tuple[tuple[Pair, ...], bool]]:
        thickness = self.part.section.thickness_mm
        widest = max((float(bolt.diameter) for bolt in self.bolts.values()), default=0.0)
        set_by_shop = max(
            (
                limit.times * max(float(widest), thickness) if limit.symbol else float(limit.times)
                for limit in self.practice.limits.values()
            ),
            default=0.0,
        )
        reach = max(_LEAST_REACH_MM, thickness, _REACH_OF_RULES * widest, set_by_shop)
        return {leg: close_pairs(leg, found, reach) for leg, found in self.cut_outs.items()}

    @cached_property
    def repeats(self) -> Mapping[str, Feature]:
        """Id of each feature that repeats an earlier one on its leg -> the earlier one."""
        return repeated(self.features)

    def explicit_outline(self, leg: LegName) -> tuple[int, OutlineTrim] | None:
        """Return the outline that the source gives for a leg and its number among the trims."""
        for name, index, trim in self.trims:
            if name == leg and isinstance(trim, OutlineTrim):
                return index, trim
        return None

    def length(self, mm: float) -> str:
        """Return a length with its unit as the part's author would write it.

        Inches as a fraction where it is one to 1/64, else as a decimal of four places;
        millimetres to three places. Trailing zeros are left out.
        """
        if self.part.units == "inch":
            return f"{inch_text(mm) or decimal(mm / _MM_PER_INCH, 4)} in."
        return f"{decimal(mm, 3)} mm"


def is_past_end(feature: Feature, length_mm: float) -> bool:
    """Tell whether a feature's centre, or the whole of an opening, lies beyond an end."""
    if isinstance(feature, Hole | Slot | CentreMark):
        x = feature.x_mm
        return x < -HALF_LAST_DECIMAL_MM or x > length_mm + HALF_LAST_DECIMAL_MM
    if isinstance(feature, Opening):
        box = extent(feature)
        return box.right < 0.0 or box.left > length_mm
    return False


def _free_edges(edge: Boundary, *, is_angle: bool) -> FreeEdges:
    free = [e for e in edge.edges if not (is_angle and _is_on_heel(e))]
    ends = [e for e in free if abs(e.bx - e.ax) <= abs(e.by - e.ay)]
    sides = [e for e in free if abs(e.bx - e.ax) > abs(e.by - e.ay)]
    return FreeEdges(
        ends=some_edges(ends) if ends else None, sides=some_edges(sides) if sides else None
    )


def _is_on_heel(edge: Edge) -> bool:
    return edge.bulge == 0.0 and max(abs(edge.ay), abs(edge.by)) <= SAME_PLACE_MM


def decimal(value: float, places: int) -> str:
    """Return a number with at most so many places and no trailing zeros."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def named(feature: Feature) -> str:
    """Return a feature's kind and id, as a message names it: "hole a3"."""
    return f"{_KINDS.get(feature.kind, feature.kind)} {feature.id}"


def on_leg(leg: LegName) -> str:
    """Return the leg as a message names it: "leg a", "the face"."""
    return "the face" if leg == "face" else f"leg {leg}"


def path_of(leg: LegName, feature: Feature) -> str:
    """Return the element path of a feature."""
    return feature_path(leg, feature.id)
