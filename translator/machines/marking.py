"""Stamping: whether the marker has the letters and reaches the place. All of it is notes."""

import math
from collections.abc import Iterator
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.findings import Severity
from translator.geometry.clearance import clear_distance
from translator.geometry.contours import Contour, vertex
from translator.geometry.ends import end_line
from translator.lengths.characters import shown
from translator.machines.handling import Marker
from translator.machines.lay import Lay, LegLay
from translator.machines.ranges import SLACK_MM, is_size
from translator.machines.reasons import SLACK_DEG, Reason, decimal, leg_words, length_words, named
from translator.machines.tool_limits import outside
from translator.model import Hole, Opening, Slot, Stamp, feature_path, leg_of

MOST_PAIRS: Final = 10_000
"""Stamps times holes of a leg that are compared; real pieces have one stamp or two."""

_LETTERS_SHOWN: Final = 10


class _Stamped(Struct, frozen=True, kw_only=True):
    """A stamp on a leg, with its text, the box of its letters, and the marker's place."""

    lay: Lay
    leg: LegLay
    marker: Marker
    stamp: Stamp
    text: str
    box: Contour


def stamp_reasons(lay: Lay) -> Iterator[Reason]:
    """Yield, for each stamp that the machine can't make as it stands, the first reason."""
    for leg in lay.legs.values():
        features = leg_of(lay.part, leg.leg).features
        stamps = [feature for feature in features if isinstance(feature, Stamp)]
        holes = [f for f in features if isinstance(f, Hole | Slot | Opening)]
        if len(stamps) * len(holes) > MOST_PAIRS:
            message = (
                f"{len(stamps)} stamps and {len(holes)} holes are on {leg_words(leg.leg)}, too many"
                " to compare"
            )
            yield _note(Reason(rule="stamp-crowded", message=message, unit=""), f"legs.{leg.leg}")
            holes = []
        for stamp in stamps:
            reason = next(_faults(lay, leg, stamp, holes), None)
            if reason is not None:
                hand = replace(reason, hand_work=named(stamp))
                yield _note(hand, feature_path(leg.leg, stamp.id))


def _note(reason: Reason, element: str) -> Reason:
    return replace(reason, element=element, severity=Severity.NOTE)


def _faults(
    lay: Lay, leg: LegLay, stamp: Stamp, holes: list[Hole | Slot | Opening]
) -> Iterator[Reason]:
    marker = lay.machine.marker
    if marker is None or marker.side not in (leg.side, "both"):
        where = f" on the {leg.side} side" if marker is not None else ""
        message = f"{named(stamp)} is struck by hand: the machine has no marker{where}"
        yield Reason(rule="stamp-without-marker", message=message, unit="")
        return
    if abs(stamp.angle_deg) % 180.0 > SLACK_DEG and not marker.turns:
        angle = decimal(stamp.angle_deg, 3)
        yield Reason(
            rule="stamp-without-marker",
            message=f"{named(stamp)} reads at {angle} deg, the marker only along the bar",
            value=stamp.angle_deg,
            limit=0.0,
            unit="deg",
        )
    text = stamp.text if stamp.text is not None else lay.part.mark
    box = letters_box(stamp, len(text), marker.letter_width)
    stamped = _Stamped(lay=lay, leg=leg, marker=marker, stamp=stamp, text=text, box=box)
    yield from _type_faults(stamped)
    if not stamp.may_move:
        yield from _reach_fault(stamped)
        yield from _crowded(stamped, holes)


def _type_faults(it: _Stamped) -> Iterator[Reason]:
    height = it.stamp.height_mm
    nearest = min(it.marker.heights_mm, key=lambda mm: (abs(mm - height), mm))
    if not is_size(nearest, height, it.lay.machine.hole_size_tolerance_mm):
        yield Reason(
            rule="stamp-height-not-set",
            message=f"{named(it.stamp)} is {length_words(it.lay.part, height)} high, the nearest"
            f" letters of the marker are {length_words(it.lay.part, nearest)}",
            value=height,
            limit=nearest,
        )
    held = it.marker.characters
    missing = [c for c in dict.fromkeys(it.text) if held is not None and c not in f"{held} "]
    if missing:
        letters = " ".join(shown(letter) for letter in missing[:_LETTERS_SHOWN])
        yield Reason(
            rule="stamp-letter-missing",
            message=f"{named(it.stamp)} needs {letters}, which the marker does not have",
            unit="",
        )


def _reach_fault(it: _Stamped) -> Iterator[Reason]:
    nearest = min(it.leg.from_heel(corner.y_mm) for corner in it.box)
    beyond = outside([nearest], it.marker.from_heel)
    if beyond is not None:
        value, limit = beyond
        words = "less than the" if value < limit else "more than the"
        part = it.lay.part
        yield Reason(
            rule="stamp-out-of-reach",
            message=f"{named(it.stamp)} is {length_words(part, value)} from {it.leg.heel_words},"
            f" {words} {length_words(part, limit)} that the marker reaches",
            value=value,
            limit=limit,
        )


def _crowded(it: _Stamped, holes: list[Hole | Slot | Opening]) -> Iterator[Reason]:
    limit = it.marker.keep_out_mm
    if limit is None:
        return
    part, leg = it.lay.part, it.leg.leg
    letters = Opening(id=it.stamp.id, contour=it.box)
    start, far = end_line(part, "start", leg), end_line(part, "far", leg)
    value, what = min(
        (min(c.x_mm - start.at(c.y_mm) for c in it.box), "the start end"),
        (min(far.at(c.y_mm) - c.x_mm for c in it.box), "the far end"),
        *((clear_distance(letters, hole), named(hole)) for hole in holes),
    )
    if value < limit - SLACK_MM:
        yield Reason(
            rule="stamp-crowded",
            message=f"the letters of {named(it.stamp)} are {length_words(part, value)} from"
            f" {what}, less than the {length_words(part, limit)} that the marker needs",
            value=value,
            limit=limit,
        )


def letters_box(stamp: Stamp, letters: int, letter_width: float) -> Contour:
    """Return the corners of the letters' box; it turns about the stamp's own point."""
    width, height = letter_width * stamp.height_mm * letters, stamp.height_mm
    cosine = math.cos(math.radians(stamp.angle_deg))
    sine = math.sin(math.radians(stamp.angle_deg))
    return tuple(
        vertex(stamp.x_mm + u * cosine - v * sine, stamp.from_heel_mm + u * sine + v * cosine)
        for u, v in ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    )
