"""What is measured on a first piece, leg by leg, and where on the picture each of it lies."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.emitters.dxf._text import ranges
from translator.geometry.clearance import extent
from translator.geometry.ends import end_angle_deg
from translator.geometry.outline import leg_outline
from translator.geometry.stops import feature_x
from translator.model import (
    CentreMark,
    Hole,
    LegName,
    Notch,
    Opening,
    OutlineTrim,
    Part,
    Rounding,
    Scribe,
    Slot,
    Stamp,
    leg_names,
    leg_of,
    leg_width,
    on_grid,
    trim_path,
)
from translator.pages._legs import Callout
from translator.pages._places import targets
from translator.pages._tolerances import Quantity

GROUP_MM: Final = 300.0
"""Holes farther apart are of two groups: the tolerance between holes of one connection does
not hold there. Common practice, no source."""

_MOST_CORNERS: Final = 16


class Dimension(Struct, frozen=True, kw_only=True):
    """One thing to measure or to look at.

    Attributes:
        what: in words.
        quantity: which tolerance counts.
        size_mm: nominal size, None for what is only looked at.
        nominal: said in place of the size.
        depth_mm: the size that a tolerance of a thing without a size of its own is chosen by.
        at: where its balloon points; None for the piece as a whole.
    """

    what: str
    quantity: Quantity = "other"
    size_mm: float | None = None
    nominal: str = ""
    depth_mm: float = 0.0
    at: Callout | None = None


def dimensions(part: Part, leg: LegName) -> Iterator[Dimension]:
    """Yield what is measured on a leg; the first leg has what concerns the whole piece too."""
    if leg == leg_names(part)[0]:
        yield from _whole(part, leg)
    width = leg_width(part.section, leg)
    name = "width" if leg == "face" else f"width of leg {leg}"
    corner = max(_outline(part, leg), key=lambda p: (p[1], p[0]))
    at = Callout(x=corner[0], y=corner[1], text="", side="toe")
    yield Dimension(what=name, quantity="leg", size_mm=width, at=at)
    yield from _cut_ends(part, leg)
    yield from _trims(part, leg)
    yield from _gauges(part, leg)
    yield from _places(part, leg)
    yield from _sizes(part, leg)
    yield from _others(part, leg)


def _whole(part: Part, leg: LegName) -> Iterator[Dimension]:
    far = max(_outline(part, leg), key=lambda p: (p[0], -p[1]))
    end = Callout(x=far[0], y=far[1], text="", side="heel")
    yield Dimension(what="length over all", quantity="length", size_mm=part.length_mm, at=end)
    thick = part.section.thickness_mm
    start = Callout(x=0.0, y=thick / 2.0, text="", side="start")
    yield Dimension(what="thickness", quantity="thickness", size_mm=thick, at=start)
    depth = leg_width(part.section, leg)
    if leg == "a":
        yield Dimension(
            what="legs square to each other",
            quantity="squareness",
            nominal="90 deg",
            depth_mm=depth,
        )
    yield Dimension(
        what="straight", quantity="straightness", nominal="straight", depth_mm=part.length_mm
    )
    for end_name in ("start", "far"):
        if all(not end_angle_deg(part, end_name, one) for one in leg_names(part)):
            yield Dimension(
                what=f"{end_name} end square",
                quantity="end-squareness",
                nominal="square",
                depth_mm=depth,
                at=_at_end(part, leg, end_name),
            )


def _outline(part: Part, leg: LegName) -> list[tuple[float, float]]:
    """Return the corners of a leg, those of the bare leg where its outline can't be told."""
    found = [(corner.x_mm, corner.y_mm) for corner in leg_outline(part, leg).contour]
    return found or [(part.length_mm, leg_width(part.section, leg))]


def _at_end(part: Part, leg: LegName, end: str) -> Callout:
    place = next(t for t in targets(part, f"ends.{end}") if t.leg == leg)
    return Callout(x=place.x, y=place.y, text="", side="heel")


def _cut_ends(part: Part, leg: LegName) -> Iterator[Dimension]:
    toe = "upper edge" if leg == "face" else "toe"
    for end in ("start", "far"):
        angle = end_angle_deg(part, end, leg)
        if angle:
            yield Dimension(
                what=f"{end} end from square, {'long' if angle > 0 else 'short'} at the {toe}",
                nominal=f"{abs(angle):g} deg",
                at=_at_end(part, leg, end),
            )


def _trims(part: Part, leg: LegName) -> Iterator[Dimension]:
    for index, trim in enumerate(leg_of(part, leg).trims):
        places = [t for t in targets(part, trim_path(leg, index)) if t.leg == leg]
        at = Callout(x=places[0].x, y=places[0].y, text="", side="toe")
        match trim:
            case OutlineTrim():
                yield from _corners(leg, trim)
                continue
            case Notch():
                name = f"notch at the {trim.side}"
                sizes = [("from", trim.x_from_mm), ("to", trim.x_to_mm), ("deep", trim.across_mm)]
                sizes += [("inside radius", trim.radius_mm)] if trim.radius_mm else []
            case Rounding():
                name = f"corner at {trim.end} end, {trim.side}"
                sizes = [("radius", trim.radius_mm)]
            case _:
                name = f"{trim.kind} at {trim.end} end, {trim.side}"
                sizes = [("long", trim.along_mm), ("deep", trim.across_mm)]
                radius = getattr(trim, "radius_mm", 0.0)
                sizes += [("inside radius", radius)] if radius else []
        for word, size in sizes:
            yield Dimension(what=f"{name}: {word}", size_mm=size, at=at)


def _corners(leg: LegName, trim: OutlineTrim) -> Iterator[Dimension]:
    if len(trim.contour) > _MOST_CORNERS:
        number = len(trim.contour)
        words = f"outline of {number} corners"
        yield Dimension(what=words, nominal="as drawn")
        return
    edge = "lower edge" if leg == "face" else "heel"
    for number, corner in enumerate(trim.contour, start=1):
        at = Callout(x=corner.x_mm, y=corner.y_mm, text="", side="toe")
        yield Dimension(what=f"corner {number} from the start end", size_mm=corner.x_mm, at=at)
        yield Dimension(what=f"corner {number} from the {edge}", size_mm=corner.y_mm, at=at)


def _rows(part: Part, leg: LegName) -> dict[float, list[Hole | Slot]]:
    """Return the holes and slots of each line along the leg, by x."""
    rows: dict[float, list[Hole | Slot]] = {}
    for feature in leg_of(part, leg).features:
        if isinstance(feature, Hole | Slot):
            rows.setdefault(feature.y_mm, []).append(feature)
    return {y: sorted(row, key=lambda f: f.x_mm) for y, row in sorted(rows.items())}


def _gauges(part: Part, leg: LegName) -> Iterator[Dimension]:
    edge = "lower edge" if leg == "face" else "heel"
    for y, row in _rows(part, leg).items():
        names = ranges(feature.id for feature in row)
        at = Callout(x=row[0].x_mm, y=y, text="", side="start", clear_mm=_half(row[0]))
        yield Dimension(what=f"{names} from the {edge}", quantity="gauge", size_mm=y, at=at)


def _places(part: Part, leg: LegName) -> Iterator[Dimension]:
    """Yield the first of each line from the start end, each further one from the last."""
    for row in _rows(part, leg).values():
        first = row[0]
        yield Dimension(
            what=f"{first.id} from the start end",
            quantity="end-distance",
            size_mm=first.x_mm,
            at=_above(first),
        )
        for before, feature in pairwise(row):
            apart = on_grid(feature.x_mm - before.x_mm)
            yield Dimension(
                what=f"{before.id} to {feature.id}",
                quantity="spacing" if apart <= GROUP_MM else "group-spacing",
                size_mm=apart,
                at=_above(feature),
            )


def _above(feature: Hole | Slot) -> Callout:
    return Callout(x=feature.x_mm, y=feature.y_mm, text="", side="toe", clear_mm=_half(feature))


def _half(feature: Hole | Slot) -> float:
    box = extent(feature)
    return (box.high - box.low) / 2.0


def _sizes(part: Part, leg: LegName) -> Iterator[Dimension]:
    """Yield each size of hole and slot once, at the first of its kind."""
    alike: dict[tuple[str, float], list[Hole | Slot]] = {}
    for feature in leg_of(part, leg).features:
        if isinstance(feature, Hole | Slot):
            for word, size in _measures(feature):
                alike.setdefault((word, size), []).append(feature)
    for (word, size), features in alike.items():
        names = ranges(feature.id for feature in features)
        at = replace(_above(features[0]), side="heel")
        quantity: Quantity = "diameter" if word in ("diameter", "width") else "other"
        yield Dimension(what=f"{names}: {word}", quantity=quantity, size_mm=size, at=at)


def _measures(feature: Hole | Slot) -> Iterator[tuple[str, float]]:
    if isinstance(feature, Hole):
        yield ("thread" if feature.thread else "diameter", feature.diameter_mm)
        if feature.countersink_diameter_mm:
            yield ("countersink", feature.countersink_diameter_mm)
    else:
        yield ("width", feature.width_mm)
        yield ("length over all", feature.length_mm)
    if feature.depth_mm is not None:
        yield ("depth", feature.depth_mm)


def _others(part: Part, leg: LegName) -> Iterator[Dimension]:
    edge = "lower edge" if leg == "face" else "heel"
    for feature in leg_of(part, leg).features:
        if isinstance(feature, Hole | Slot):
            continue
        box = extent(feature)
        middle = ((box.left + box.right) / 2.0, (box.low + box.high) / 2.0)
        at = Callout(x=middle[0], y=middle[1], text="", side="heel")
        start, name = feature_x(feature), f"{feature.kind.replace('_', ' ')} {feature.id}"
        match feature:
            case Opening():
                for word, size in (
                    ("left edge from the start end", box.left),
                    ("right edge from the start end", box.right),
                    (f"near edge from the {edge}", box.low),
                    (f"off edge from the {edge}", box.high),
                ):
                    yield Dimension(what=f"{name}: {word}", size_mm=on_grid(size), at=at)
            case Stamp():
                text = part.mark if feature.text is None else feature.text
                yield Dimension(what=f"{name} can be read", nominal=f'"{text}"', at=at)
                yield Dimension(what=f"{name} from the start end", size_mm=start, at=at)
                yield Dimension(what=f"{name} from the {edge}", size_mm=feature.from_heel_mm, at=at)
            case CentreMark():
                yield Dimension(what=f"{name} from the start end", size_mm=start, at=at)
                yield Dimension(what=f"{name} from the {edge}", size_mm=feature.y_mm, at=at)
            case Scribe():
                yield Dimension(what=f"line {feature.id} from the start end", size_mm=start, at=at)
