"""Mitres: the cuts of a part's ends, each said of one leg."""

from collections.abc import Iterable, Mapping
from typing import Final, Literal, NamedTuple

from translator.model import AngleEnd, AngleEnds, FlatEnd, FlatEnds
from translator.readers.part_text._book import SYNTAX
from translator.readers.part_text._contours import wrong_side
from translator.readers.part_text._frames import Frame, Spot
from translator.readers.part_text._layers import Said
from translator.readers.part_text._scope import Scope
from translator.syntax.tree import Node

_End = Literal["start", "far"]
_Leg = Literal["a", "b", "face"]

_STEEPEST_DEG: Final = 89.0
"""The part model takes cuts below it."""


class _Mitre(NamedTuple):
    leg: _Leg
    degrees: float


def read_ends(
    mitres: Iterable[Said], scope: Scope, *, is_flat: bool
) -> tuple[AngleEnds | FlatEnds, Mapping[str, Spot]]:
    """Return the ends of a part, square where nothing is said, and their places.

    A mitre of a later frame takes the place of an earlier one's for the same end and leg.
    """
    cuts: dict[tuple[_End, _Leg], float] = {}
    frames: dict[tuple[_End, _Leg], Frame] = {}
    places: dict[str, Spot] = {}
    for statement, frame in mitres:
        with scope.under(frame) as own:
            mitre = _mitre(statement, own, is_flat=is_flat)
            if mitre is None:
                continue
            for end in ends_of(statement):
                cut = end, mitre.leg
                if frames.get(cut) is frame:
                    on_leg = "" if mitre.leg == "face" else f" of leg {mitre.leg}"
                    message = f"The {end} end{on_leg} has two mitres."
                    own.book.say("given-twice", message, statement.extent)
                    continue
                cuts[cut], frames[cut] = mitre.degrees, frame
                places.setdefault(f"ends.{end}", own.spot(statement.extent))
    if is_flat:
        return FlatEnds(start=_flat_end(cuts, "start"), far=_flat_end(cuts, "far")), places
    return AngleEnds(start=_angle_end(cuts, "start"), far=_angle_end(cuts, "far")), places


def _flat_end(cuts: Mapping[tuple[_End, _Leg], float], end: _End) -> FlatEnd:
    return FlatEnd(face_deg=cuts.get((end, "face"), 0.0))


def _angle_end(cuts: Mapping[tuple[_End, _Leg], float], end: _End) -> AngleEnd:
    return AngleEnd(leg_a_deg=cuts.get((end, "a"), 0.0), leg_b_deg=cuts.get((end, "b"), 0.0))


def _mitre(statement: Node, scope: Scope, *, is_flat: bool) -> _Mitre | None:
    (angle,) = statement.nodes("angle")
    side = statement.its("HEEL", "TOE", "LOWER", "UPPER")
    leg = _leg(statement, scope, is_flat=is_flat)
    if (side.type in ("LOWER", "UPPER")) != is_flat:
        scope.book.say(SYNTAX, wrong_side(side, is_flat=is_flat), side.extent)
        return None
    degrees = scope.degrees(angle)
    if leg is None or degrees is None:
        return None
    if not 0 <= degrees < _STEEPEST_DEG:
        scope.book.say(
            "value-out-of-range",
            f"A mitre of {degrees:g} degrees can't be cut: it is 0 or more and less than"
            f" {_STEEPEST_DEG:g}, and where it is long is told in words.",
            angle.extent,
        )
        return None
    is_positive = side.type in ("TOE", "UPPER")
    return _Mitre(leg, degrees if is_positive else -degrees)


def ends_of(statement: Node) -> tuple[_End, ...]:
    """Return the ends that a cut is made at."""
    if statement.has("BOTH"):
        return ("start", "far")
    return ("start",) if statement.has("START") else ("far",)


def _leg(statement: Node, scope: Scope, *, is_flat: bool) -> _Leg | None:
    word = statement.word("A", "B", "FACE")
    if is_flat:
        if word is None or word.type == "FACE":
            return "face"
        message = f"A flat has no leg {word.text}: leave `of leg {word.text}` out."
        scope.book.say(SYNTAX, message, word.extent)
        return None
    if word is not None and word.type != "FACE":
        return "a" if word.type == "A" else "b"
    message = "Say of which leg: `of leg a` or `of leg b`, since the cut runs over both."
    scope.book.say(SYNTAX, message, statement.extent)
    return None
