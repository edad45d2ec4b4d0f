"""Features and what became of them, in shop words."""

from collections import Counter
from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from translator.changes.shape_words import piece_length
from translator.geometry.clearance import extent
from translator.geometry.stops import feature_x
from translator.model import (
    Angle,
    Feature,
    Hole,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    on_grid,
)
from translator.pages._words import across, kind_words, length, slot_way

_MOST_PLACES: Final = 6
_TWO: Final = 2
_SAID: Final = ("bolt", "purpose", "process")


def noun(feature: Feature, part: Part, number: int = 1) -> str:
    """Return what a feature is with its size; in the plural for more than one."""
    many = "" if number == 1 else "s"
    match feature:
        case Hole() | Slot():
            return f"{kind_words(feature)}{many} {size(feature, part)}"
        case Opening():
            return f"opening{many} {size(feature, part)}"
        case Stamp():
            return f"stamp{many} {stamped(feature)}"
        case Scribe():
            return f"{_LINES[feature.method]}{many}"
        case _:
            return f"centre mark{many}"


_LINES: Final = {
    "scribe": "scribed line",
    "powder": "powder line",
    "punch": "punched line",
}


def stamped(stamp: Stamp) -> str:
    """Return what a stamp reads."""
    return "of the mark" if stamp.text is None else f"\u201c{stamp.text}\u201d"


def size(feature: Feature, part: Part) -> str:
    """Return the size of a hole, slot or opening."""
    match feature:
        case Hole():
            return length(feature.diameter_mm, part)
        case Slot():
            return f"{length(feature.width_mm, part)} x {length(feature.length_mm, part)}"
        case Opening():
            box = extent(feature)
            sides = (on_grid(box.right - box.left), on_grid(box.high - box.low))
            return " x ".join(length(side, part) for side in sides)
        case _:
            return ""


def gauge(feature: Feature, part: Part) -> str:
    """Return how far from the heel or lower edge a feature lies, in words."""
    y = across(feature)
    if y is None:
        box = extent(feature)
        y = on_grid((box.low + box.high) / 2.0)
    if isinstance(feature, Stamp | Opening | Scribe):
        zero = "heel" if isinstance(part.section, Angle) else "the lower edge"
        return f"{length(y, part)} from {zero}"
    return f"gauge {length(y, part)}"


def station(feature: Feature, part: Part) -> str:
    """Return how far from the start end a feature lies."""
    return piece_length(feature_x(feature), part)


class Crowd(Struct, frozen=True, kw_only=True):
    """How often there is a feature of one name, and at one station, on a leg."""

    nouns: Counter[str]
    stations: Counter[float]

    @classmethod
    def of(cls, features: Sequence[Feature], part: Part) -> "Crowd":
        """Count the features of a leg."""
        return cls(
            nouns=Counter(noun(f, part) for f in features),
            stations=Counter(feature_x(f) for f in features),
        )


def which(chosen: Sequence[Feature], crowd: Crowd, part: Part) -> str:
    """Return words for some like features of a leg, with places unless they are all of them.

    Args:
        chosen: features of one kind and size.
        crowd: all features of the leg.
        part: whose units count.
    """
    chosen = sorted(chosen, key=feature_x)
    first, count = chosen[0], len(chosen)
    if count == 1:
        at = f"{noun(first, part)} at {station(first, part)}"
        is_alone = crowd.stations[feature_x(first)] == 1
        return at if is_alone else f"{at}, {gauge(first, part)}"
    if count == crowd.nouns[noun(first, part)]:
        every = "both" if count == _TWO else f"all {count}"
        return f"{every} {noun(first, part, count)}"
    places = [station(f, part) for f in chosen[:_MOST_PLACES]]
    more = f" and {count - _MOST_PLACES} more" if count > _MOST_PLACES else ""
    gauges = {gauge(f, part) for f in chosen}
    line = f", {gauges.pop()}" if len(gauges) == 1 else ""
    return f"{count} {noun(first, part, count)} at {', '.join(places)}{more}{line}"


def counted(features: Sequence[Feature], part: Part) -> str:
    """Return how many of each kind and size there are."""
    kinds = Counter(noun(f, part) for f in features)
    first = {noun(f, part): f for f in reversed(features)}
    return ", ".join(
        f"{n} {noun(first[name], part, n)}" if n > 1 else name for name, n in kinds.items()
    )


def step_words(dx: float, dy: float, part: Part) -> str:
    """Return how far something moved and which way."""
    toe, heel = ("the toe", "the heel") if isinstance(part.section, Angle) else _EDGES
    words = []
    if dx:
        words.append(f"{length(abs(dx), part)} towards the {'far' if dx > 0 else 'start'} end")
    if dy:
        words.append(f"{length(abs(dy), part)} towards {toe if dy > 0 else heel}")
    return " and ".join(words)


_EDGES: Final = ("the upper edge", "the lower edge")


def became(old: Feature, new: Feature, part: Part, number: int = 1) -> list[str]:
    """Return what else changed about like features than their place, each in words."""
    if old.kind != new.kind:
        two = noun(new, part, number)
        return [f"became {'a ' if number == 1 else ''}{two}", *_said(old, new)]
    match old, new:
        case Hole(), Hole():
            return [*_resized(old, new, part), *_bored(old, new, part), *_said(old, new)]
        case Slot(), Slot():
            words = _resized(old, new, part)
            if old.angle_deg != new.angle_deg:
                was = slot_way(part, old)
                words.append(f"now lies {slot_way(part, new)} (was {was})")
            return [*words, *_depth(old, new, part), *_said(old, new)]
        case Stamp(), Stamp():
            return _stamp(old, new, part)
        case _:
            return _line(old, new, part)


def _resized(old: Hole | Slot, new: Hole | Slot, part: Part) -> list[str]:
    one, two = size(old, part), size(new, part)
    return [] if one == two else [f"became {two}"]


def _bored(old: Hole, new: Hole, part: Part) -> list[str]:
    words = _depth(old, new, part)
    if old.thread != new.thread:
        words.append(f"now {_thread(new)} (was {_thread(old)})")
    if _sunk(old, part) != _sunk(new, part):
        words.append(f"now {_sunk(new, part)} (was {_sunk(old, part)})")
    return words


def _depth(old: Hole | Slot, new: Hole | Slot, part: Part) -> list[str]:
    if old.depth_mm == new.depth_mm:
        return []
    one, two = (
        "through" if f.depth_mm is None else f"{length(f.depth_mm, part)} deep" for f in (old, new)
    )
    return [f"now {two} (was {one})"]


def _thread(hole: Hole) -> str:
    return f"tapped, {hole.thread}-hand" if hole.thread else "not tapped"


def _sunk(hole: Hole, part: Part) -> str:
    wide, angle = hole.countersink_diameter_mm, hole.countersink_angle_deg
    if wide is None and angle is None:
        return "not countersunk"
    to = "" if wide is None else f" to {length(wide, part)}"
    return f"countersunk{to}{'' if angle is None else f' at {angle:g} deg'}"


def _said(old: Feature, new: Feature) -> list[str]:
    """Return what changed about bolt, purpose and process."""
    words = []
    for name in _SAID:
        one, two = getattr(old, name, None), getattr(new, name, None)
        if one == two:
            continue
        if two is None:
            words.append(f"without {name} (was {one})")
        else:
            words.append(f"now {name} {two} ({'not said before' if one is None else f'was {one}'})")
    return words


def _stamp(old: Stamp, new: Stamp, part: Part) -> list[str]:
    words = []
    if old.text != new.text:
        words.append(f"now reads {stamped(new)} (was {stamped(old)})")
    if old.height_mm != new.height_mm:
        one, two = length(old.height_mm, part), length(new.height_mm, part)
        words.append(f"letters now {two} high (were {one})")
    if old.angle_deg != new.angle_deg:
        words.append(f"now turned {new.angle_deg:g} deg (was {old.angle_deg:g})")
    if old.may_move != new.may_move:
        words.append("may now move" if new.may_move else "may no longer move")
    return words


def _line(old: Feature, new: Feature, part: Part) -> list[str]:
    words = []
    if isinstance(old, Scribe) and isinstance(new, Scribe):
        if old.method != new.method:
            words.append(f"became a {_LINES[new.method]} (was a {_LINES[old.method]})")
        if old.closed != new.closed:
            words.append("is now closed" if new.closed else "is now open")
    one, two = size(old, part), size(new, part)
    if one != two:
        words.append(f"became {two} (was {one})")
    return words or ["changed its shape"]
