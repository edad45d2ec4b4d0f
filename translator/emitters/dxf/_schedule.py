"""Say in words what is made on a leg: one entry for features alike and on one gauge."""

from collections.abc import Callable, Iterator
from itertools import groupby, pairwise
from typing import Final, NamedTuple

from translator.emitters.dxf._text import dimension, ranges
from translator.geometry.contours import bounds
from translator.model import (
    CentreMark,
    Feature,
    Flat,
    Hole,
    LegName,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    leg_of,
    on_grid,
)

_Spell = Callable[[float], str]

_PROCESS_WORDS: Final = {
    "drill": "drill only",
    "punch": "punch",
    "sub-punch-and-ream": "sub-punch and ream",
    "mark-only": "only mark the place, do not make it",
}
_SCRIBE_WORDS: Final = {
    "scribe": "scribed line",
    "powder": "powder line",
    "punch": "line of punch marks",
}
_PLACED: Final = (Hole, Slot, CentreMark)

_FEWEST_STEPS: Final = 3
"""So many equal steps are told by number and step."""

_MOST_NAMED: Final = 3
"""Corners of a scribed line that are told one by one."""

_SLOT_WAYS: Final = {0.0: "along", 90.0: "across"}


class Entry(NamedTuple):
    """Features alike on one gauge.

    Attributes:
        names: their names.
        number: how many there are.
        what: kind, size and how it is made.
        gauge: distance from the heel or the lower edge; "" where ``what`` says the place.
        places: running positions from the start end; equally.
    """

    names: str
    number: int
    what: str
    gauge: str
    places: str


def schedule(part: Part, leg: LegName) -> Iterator[Entry]:
    """Yield the entries of the schedule, in the order of each one's first feature."""
    units = part.units

    def spell(mm: float) -> str:
        return dimension(mm, units)

    rows: dict[tuple[str, float | None], list[Feature]] = {}
    for feature in leg_of(part, leg).features:
        y = feature.y_mm if isinstance(feature, _PLACED) else None
        rows.setdefault((_words(part, feature, spell), y), []).append(feature)
    for (words, y), features in rows.items():
        xs = [f.x_mm for f in features if isinstance(f, _PLACED)]
        yield Entry(
            ranges([f.id for f in features]),
            len(features),
            words,
            "" if y is None else spell(y),
            ", ".join(_running(xs, spell)) if xs else "",
        )


def _running(xs: list[float], spell: _Spell) -> Iterator[str]:
    """Yield positions from the start; ``3 @ 4`` goes three steps of 4 on from the last one."""
    yield spell(xs[0])
    if len(xs) <= _FEWEST_STEPS:
        yield from map(spell, xs[1:])
        return
    steps = groupby(pairwise(xs), lambda pair: on_grid(pair[1] - pair[0]))
    for step, group in steps:
        places = [spell(x) for _, x in group]
        if step > 0 and len(places) >= _FEWEST_STEPS:
            yield f"{len(places)} @ {spell(step)}"
        else:
            yield from places


def _words(part: Part, feature: Feature, spell: _Spell) -> str:
    match feature:
        case Hole():
            return _hole(feature, spell)
        case Slot():
            return _slot(part, feature, spell)
        case Opening():
            return _opening(part, feature, spell)
        case CentreMark():
            return "centre punch mark"
        case Scribe():
            return _scribe(part, feature, spell)
        case Stamp():
            return _stamp(part, feature, spell)


def _hole(hole: Hole, spell: _Spell) -> str:
    words = [f"hole {spell(hole.diameter_mm)}"]
    if hole.thread is not None:
        words.append(f"tapped, {hole.thread}-hand thread")
    if hole.countersink_diameter_mm is not None:
        sunk = f"countersunk to {spell(hole.countersink_diameter_mm)}"
        if hole.countersink_angle_deg is not None:
            sunk += f" x {hole.countersink_angle_deg:g} deg"
        words.append(sunk)
    elif hole.countersink_angle_deg is not None:
        words.append(f"countersunk {hole.countersink_angle_deg:g} deg")
    return ", ".join([*words, *_how(hole, spell)])


def _slot(part: Part, slot: Slot, spell: _Spell) -> str:
    way = _SLOT_WAYS.get(slot.angle_deg)
    if way is None:
        way = _turn(part, slot.angle_deg)
    else:
        way += " the piece" if isinstance(part.section, Flat) else " the leg"
    size = f"slot {spell(slot.width_mm)} x {spell(slot.length_mm)} overall"
    return ", ".join([f"{size} {way}", *_how(slot, spell)])


def _how(feature: Hole | Slot, spell: _Spell) -> Iterator[str]:
    if feature.depth_mm is not None:
        yield f"blind, {spell(feature.depth_mm)} deep"
    if feature.bolt is not None:
        yield f"for bolt {feature.bolt}"
    if feature.purpose is not None:
        yield f"for a {feature.purpose}, no bolt"
    if feature.process is not None:
        yield _PROCESS_WORDS[feature.process]


def _opening(part: Part, opening: Opening, spell: _Spell) -> str:
    left, low, right, high = map(on_grid, bounds(opening.contour))
    return (
        f"opening of {len(opening.contour)} corners, {spell(left)} to {spell(right)} along the"
        f" piece, {spell(low)} to {spell(high)} from the {_datum(part)}"
    )


def _scribe(part: Part, scribe: Scribe, spell: _Spell) -> str:
    words = _SCRIBE_WORDS[scribe.method]
    if len(scribe.line) > _MOST_NAMED or scribe.closed or any(v.bulge for v in scribe.line):
        left, low, right, high = map(on_grid, bounds(scribe.line, closed=scribe.closed))
        return (
            f"{words}, {spell(left)} to {spell(right)} along the piece, {spell(low)} to"
            f" {spell(high)} from the {_datum(part)}"
        )
    corners = (f"{spell(v.x_mm)} along and {spell(v.y_mm)} across" for v in scribe.line)
    return f"{words} from {' to '.join(corners)}"


def _stamp(part: Part, stamp: Stamp, spell: _Spell) -> str:
    text = part.mark if stamp.text is None else stamp.text
    words = (
        f'stamp "{text}" {spell(stamp.height_mm)} high, left end at {spell(stamp.x_mm)}, letters'
        f" {spell(stamp.from_heel_mm)} from the {_datum(part)}"
    )
    if stamp.angle_deg:
        words += f", {_turn(part, stamp.angle_deg)}"
    return words + (", may be moved" if stamp.may_move else "")


def _datum(part: Part) -> str:
    return "lower edge" if isinstance(part.section, Flat) else "heel"


def _turn(part: Part, degrees: float) -> str:
    """Say which way something is turned whose zero looks from the start to the far end."""
    edges = ("upper edge", "lower edge") if isinstance(part.section, Flat) else ("toe", "heel")
    return f"turned {abs(degrees):g} deg towards the {edges[degrees < 0]}"
