"""Compare a part with the one that its NC file reads back as, to what the format can hold."""

import math
from collections.abc import Iterator, Sequence
from typing import Final

from translator.geometry.clearance import slot_centres
from translator.geometry.contours import Contour, area, bounds, distance, flatten
from translator.geometry.outline import leg_outline
from translator.model import (
    CentreMark,
    Feature,
    Hole,
    LegName,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    leg_names,
    leg_of,
    leg_thickness,
    leg_width,
)

PLACE_MM: Final = 0.01
"""Lengths are written to 0.01 mm."""

LINE_MM: Final = 0.02
"""Arcs are written by a radius to 0.01 mm."""

_ANGLE_DEG: Final = 0.01
_FINE_MM: Final = 0.002
_SLACK: Final = 1e-6


def differences(part: Part, read: Part) -> Iterator[str]:
    """Yield a sentence for each place or size that differs by more than the format's grid."""
    if leg_names(part) != leg_names(read):
        yield f"it has the legs {', '.join(leg_names(read))}, not {', '.join(leg_names(part))}"
        return
    yield from _words(part, read)
    before = _outlines(part)
    left, right = _extent(part, before)
    yield from _figure("the length", read.length_mm, right - left)
    yield from _figure("the thickness", leg_thickness(read.section), leg_thickness(part.section))
    after = _outlines(read)
    for leg in leg_names(part):
        where = "the face" if leg == "face" else f"leg {leg}"
        width = leg_width(part.section, leg)
        yield from _figure(f"the width of {where}", leg_width(read.section, leg), width)
        moved = tuple(_moved(v, left) for v in before[leg])
        yield from _line(f"the outline of {where}", after[leg], moved, closed=True)
        yield from _features(part, read, leg, left)


def _words(part: Part, read: Part) -> Iterator[str]:
    for name in ("mark", "quantity"):
        if getattr(part, name) != getattr(read, name):
            yield f"the {name} is {getattr(read, name)!r}, not {getattr(part, name)!r}"


def _outlines(part: Part) -> dict[LegName, Contour]:
    return {leg: leg_outline(part, leg).contour for leg in leg_names(part)}


def _extent(part: Part, outlines: dict[LegName, Contour]) -> tuple[float, float]:
    """Return the x between which the finished piece lies; the file counts from the first."""
    boxes = [bounds(contour) for contour in outlines.values()]
    left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
    is_whole = abs(left) <= PLACE_MM + _SLACK and abs(right - part.length_mm) <= PLACE_MM + _SLACK
    return (0.0, part.length_mm) if is_whole else (left, right)


def _features(part: Part, read: Part, leg: LegName, left: float) -> Iterator[str]:
    written = [
        f
        for f in leg_of(part, leg).features
        if not (isinstance(f, Scribe) and f.method == "scribe")
    ]
    found = leg_of(read, leg).features
    if [f.kind for f in written] != [f.kind for f in found]:
        yield f"leg {leg} has {len(found)} features or kinds other than the {len(written)} written"
        return
    for wanted, got in zip(written, found, strict=True):
        yield from _feature(part, wanted, got, left)


def _feature(part: Part, wanted: Feature, got: Feature, left: float) -> Iterator[str]:
    name = f"{wanted.kind} {wanted.id}"
    match wanted, got:
        case (Opening(), Opening()):
            contour = tuple(_moved(v, left) for v in wanted.contour)
            yield from _line(name, got.contour, contour, closed=True)
        case (Scribe(), Scribe()):
            contour = tuple(_moved(v, left) for v in wanted.line)
            yield from _line(name, got.line, contour, closed=wanted.closed)
        case _:
            figures = zip(_figures(wanted, left), _figures(got, 0.0), strict=True)
            for (word, value), (_, other) in figures:
                yield from _figure(f"{word} of {name}", other, value)
            yield from _letters(part, wanted, got)


def _figures(feature: Feature, left: float) -> tuple[tuple[str, float], ...]:
    match feature:
        case Hole() | CentreMark():
            place = (("x", feature.x_mm - left), ("the gauge", feature.y_mm))
            if isinstance(feature, CentreMark):
                return place
            sink = feature.countersink_diameter_mm or 0.0
            sizes = (("the diameter", feature.diameter_mm), ("the countersink", sink))
            return (*place, *sizes, ("the depth", feature.depth_mm or 0.0))
        case Slot():
            (ax, ay), (bx, by) = slot_centres(feature)
            return (
                *(("x of an end", x - left) for x in (ax, bx)),
                *(("the gauge of an end", y) for y in (ay, by)),
                ("the width", feature.width_mm),
                ("the depth", feature.depth_mm or 0.0),
            )
        case Stamp():
            return (
                ("x", feature.x_mm - left),
                ("the distance from the heel", feature.from_heel_mm),
                ("the height", feature.height_mm),
            )
        case _:
            return ()


def _letters(part: Part, wanted: Feature, got: Feature) -> Iterator[str]:
    if isinstance(wanted, Stamp) and isinstance(got, Stamp):
        text, other = (f.text if f.text is not None else part.mark for f in (wanted, got))
        if text.strip() != other.strip():
            yield f"stamp {wanted.id} says {other!r}, not {text!r}"
        turned = abs((got.angle_deg - wanted.angle_deg + 180.0) % 360.0 - 180.0)
        if turned > _ANGLE_DEG + _SLACK:
            yield f"stamp {wanted.id} is turned {turned:g} deg away"


def _figure(what: str, value: float, wanted: float) -> Iterator[str]:
    if not abs(value - wanted) <= PLACE_MM + _SLACK:
        yield f"{what} is {value:.4f} mm, not {wanted:.4f} mm (held to {PLACE_MM} mm)"


def _line(
    what: str, got: Sequence[Vertex], wanted: Sequence[Vertex], *, closed: bool
) -> Iterator[str]:
    """Compare two lines as shapes: the points of each lie on the other."""
    if len(got) < 2 or len(wanted) < 2:  # noqa: PLR2004 - no line
        yield f"{what} is not there"
        return
    pairs = ((got, wanted), (wanted, got))
    if closed:
        off = max(_off(one, other) for one, other in pairs)
        if area(got) * area(wanted) < 0.0:
            yield f"{what} runs the other way"
    else:
        ends = zip((got[0], got[-1]), (wanted[0], wanted[-1]), strict=True)
        off = max(math.hypot(p.x_mm - q.x_mm, p.y_mm - q.y_mm) for p, q in ends)
        ring = [(*line, *line[-2:0:-1]) for line in (got, wanted)]
        if not any(v.bulge for v in (*got, *wanted)):
            off = max(off, _off(ring[0], ring[1]), _off(ring[1], ring[0]))
    if not off <= LINE_MM + _SLACK:
        yield f"{what} is {off:.4f} mm off (held to {LINE_MM} mm)"


def _off(points: Sequence[Vertex], line: Sequence[Vertex]) -> float:
    return max(distance(line, x, y) for x, y in flatten(points, _FINE_MM))


def _moved(vertex: Vertex, left: float) -> Vertex:
    return vertex.model_copy(update={"x_mm": vertex.x_mm - left})
