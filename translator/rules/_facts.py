"""Facts of a part that rules share: its geometry, worked out once, and its words."""

from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Final

from translator.geometry.boundary import Boundary, boundary
from translator.geometry.clearance import EdgeDistance, edge_distance, extent
from translator.geometry.contours import bounds
from translator.geometry.outline import LegOutline, leg_outline
from translator.lengths.spell import inch_text
from translator.model import (
    CentreMark,
    Feature,
    Hole,
    LegName,
    Opening,
    OutlineTrim,
    Part,
    Slot,
    feature_path,
    leg_names,
    leg_of,
)
from translator.model.trims import Trim

_KINDS: Final[Mapping[str, str]] = MappingProxyType(
    {"centre_mark": "centre mark", "scribe": "scribed line"}
)
_MM_PER_INCH: Final = 25.4

HALF_LAST_DECIMAL_MM: Final = 0.005
"""Half the last decimal of an NC file: what is off by less may be rounding."""

SAME_PLACE_MM: Final = 0.01
"""Two features this near to each other lie at one place: the last decimal of an NC file."""


class Facts:
    """One part and what follows from it; every figure is worked out when first asked for.

    Attributes:
        part: the part under check.
    """

    def __init__(self, part: Part) -> None:
        self.part = part

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
    def repeats(self) -> Mapping[str, Feature]:
        """Id of each feature that repeats an earlier one on its leg -> the earlier one.

        Places are compared to 0.01 mm, by squares of a net so that time grows with the
        number of features only.
        """
        net: dict[tuple[object, ...], Feature] = {}
        found: dict[str, Feature] = {}
        for leg, feature in self.features:
            if not isinstance(feature, Hole | Slot | Opening | CentreMark):
                continue
            x, y = centre(feature)
            kind = (leg, *_sizes(feature))
            column, row = round(x / SAME_PLACE_MM), round(y / SAME_PLACE_MM)
            near = ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1))
            first = next((net[(*kind, *place)] for place in near if (*kind, *place) in net), None)
            if first is None:
                net[*kind, column, row] = feature
            else:
                found[feature.id] = first
        return found

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
    if isinstance(feature, Opening):
        box = extent(feature)
        return box.right < 0.0 or box.left > length_mm
    if isinstance(feature, Hole | Slot | CentreMark):
        x = feature.x_mm
        return x < -HALF_LAST_DECIMAL_MM or x > length_mm + HALF_LAST_DECIMAL_MM
    return False


def centre(feature: Hole | Slot | Opening | CentreMark) -> tuple[float, float]:
    """Return the centre of a feature, of an opening the middle of the box around it."""
    if isinstance(feature, Opening):
        left, low, right, high = bounds(feature.contour)
        return (left + right) / 2.0, (low + high) / 2.0
    return feature.x_mm, feature.y_mm


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
