"""Statements of a leg's features; what differs by its place alone is drawn together."""

import re
from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from translator.emitters.part_text._phrases import contour, degrees_text, line, positions
from translator.lengths.parse import Unit
from translator.lengths.spell import length_text
from translator.model import (
    CentreMark,
    Feature,
    Hole,
    Leg,
    LegName,
    Opening,
    Scribe,
    Slot,
    Stamp,
    derived_id,
)
from translator.syntax.quoting import quoted

_DERIVED: Final = re.compile(r"[abf][1-9][0-9]{0,5}")
_PROCESSES: Final = {
    "drill": "drill only",
    "punch": "punch",
    "sub-punch-and-ream": "sub-punch and ream",
    "mark-only": "mark only",
}
_ACROSS_DEG: Final = 90.0
_DEPTH: Final = 2

Placed = Hole | Slot | CentreMark


class Style(Struct, frozen=True, kw_only=True):
    """How a part's features are spelled.

    Attributes:
        units: the unit of a bare number.
        together: draw equal spaces together.
    """

    units: Unit
    together: bool


def feature_lines(leg: Leg, name: LegName, style: Style) -> list[str]:
    """Return the statements of a leg's features, in their order."""
    lines: list[str] = []
    place = 0
    while place < len(leg.features):
        group = _group(leg.features, place, name)
        lines += line(_DEPTH, _phrases(group, place, name, style))
        place += len(group)
    return lines


def id_word(identity: str) -> str:
    """Return an id as it is named elsewhere: bare if it is of the usual kind."""
    return identity if _DERIVED.fullmatch(identity) else f"id {quoted(identity)}"


def _group(features: Sequence[Feature], first: int, name: LegName) -> Sequence[Feature]:
    """Return the features from one on that differ by id and growing x alone."""
    end = first + 1
    begin = features[first]
    if isinstance(begin, Hole | Slot | CentreMark) and _is_derived(begin, first, name):
        while end < len(features) and _continues(begin, features[end - 1], features[end]):
            if not _is_derived(features[end], end, name):
                break
            end += 1
    return features[first:end]


def _continues(begin: Placed, last: Feature, feature: Feature) -> bool:
    return (
        isinstance(last, Hole | Slot | CentreMark)
        and isinstance(feature, Hole | Slot | CentreMark)
        and feature.x_mm > last.x_mm
        and feature.model_copy(update={"id": begin.id, "x_mm": begin.x_mm}) == begin
    )


def _is_derived(feature: Feature, place: int, name: LegName) -> bool:
    return feature.id == derived_id(name, place + 1)


def _phrases(group: Sequence[Feature], place: int, name: LegName, style: Style) -> list[str]:
    first = group[0]
    phrases = _statement(group, name, style)
    return phrases if _is_derived(first, place, name) else [*phrases, f"id {quoted(first.id)}"]


def _statement(group: Sequence[Feature], name: LegName, style: Style) -> list[str]:
    first, units = group[0], style.units
    match first:
        case Hole():
            return _hole(first, _along(group, first, style), units, is_one=len(group) == 1)
        case Slot():
            return _slot(first, _along(group, first, style), units, is_one=len(group) == 1)
        case CentreMark():
            word = "centre mark" if len(group) == 1 else "centre marks"
            return [word, *_along(group, first, style)]
        case Opening():
            return ["opening", *contour(first.contour, units, is_closed=True)]
        case Scribe():
            method = "" if first.method == "scribe" else f" {first.method}"
            return [f"scribe{method}", *contour(first.line, units, is_closed=first.closed)]
        case Stamp():
            return _stamp(first, name, units)


def _along(group: Sequence[Feature], first: Placed, style: Style) -> list[str]:
    places = [one.x_mm for one in group if isinstance(one, Hole | Slot | CentreMark)]
    begin, *rest = positions(places, style.units, together=style.together)
    return [f"gauge {length_text(first.y_mm, style.units)}", f"at {begin}", *rest]


def _hole(hole: Hole, along: Sequence[str], units: Unit, *, is_one: bool) -> list[str]:
    phrases = [f"{'hole' if is_one else 'holes'} {length_text(hole.diameter_mm, units)}"]
    phrases += [*_bolt(hole), *along, *_depth(hole, units)]
    if hole.thread is not None:
        phrases.append("tapped" if hole.thread == "right" else "tapped left")
    diameter, angle = hole.countersink_diameter_mm, hole.countersink_angle_deg
    if diameter is not None or angle is not None:
        wide = "" if diameter is None else f" {length_text(diameter, units)}"
        inclined = "" if angle is None else f" angle {degrees_text(angle)}"
        phrases.append(f"countersunk{wide}{inclined}")
    return phrases + _wishes(hole)


def _slot(slot: Slot, along: Sequence[str], units: Unit, *, is_one: bool) -> list[str]:
    width, overall = length_text(slot.width_mm, units), length_text(slot.length_mm, units)
    phrases = [f"{'slot' if is_one else 'slots'} {width} x {overall}"]
    if slot.angle_deg in (0.0, _ACROSS_DEG):
        phrases.append("across leg" if slot.angle_deg else "along leg")
    else:
        phrases.append(f"turned {degrees_text(slot.angle_deg)}")
    return [*phrases, *_bolt(slot), *along, *_depth(slot, units), *_wishes(slot)]


def _stamp(stamp: Stamp, name: LegName, units: Unit) -> list[str]:
    edge = "lower edge" if name == "face" else "heel"
    phrases = [
        "stamp mark" if stamp.text is None else f"stamp {quoted(stamp.text)}",
        f"at {length_text(stamp.x_mm, units)}",
        f"from {edge} {length_text(stamp.from_heel_mm, units)}",
        f"height {length_text(stamp.height_mm, units)}",
    ]
    if stamp.angle_deg:
        phrases.append(f"angle {degrees_text(stamp.angle_deg)}")
    return [*phrases, "may move"] if stamp.may_move else phrases


def _bolt(feature: Hole | Slot) -> list[str]:
    return [] if feature.bolt is None else [f"bolt {feature.bolt}"]


def _depth(feature: Hole | Slot, units: Unit) -> list[str]:
    return [] if feature.depth_mm is None else [f"depth {length_text(feature.depth_mm, units)}"]


def _wishes(feature: Hole | Slot) -> list[str]:
    process = [] if feature.process is None else [_PROCESSES[feature.process]]
    return process if feature.purpose is None else [*process, feature.purpose]
