"""Holes that are to be punched, and what each code lets a shop punch."""

from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from translator.model import Hole, LegName, Slot
from translator.rules._bolts import least_width
from translator.rules._facts import Facts
from translator.rules._practice import USUAL_CLASS
from translator.tables.figures import Limit
from translator.tables.grades import read_grade, strength
from translator.tables.punching import PunchedHole, thickest_punched, thickest_sub_punched

_REAMED_CLASSES: Final = (3, 4)
_EN: Final = "en-1090-2"
_BY_PRACTICE: Final = {"eu": _EN, "us": "tool", "": "tool"}


class Punched(Struct, frozen=True, kw_only=True):
    """A hole or slot that is to be punched, under one code of punching.

    Attributes:
        leg: that it is on.
        feature: the hole or slot.
        full: thickest steel it may be punched in to its full size, None for no limit.
        small: thickest steel it may be punched in and then reamed, None for no limit.
        needs_reaming: whether the code has holes punched small in any but thin steel.
        code: name of the code.
    """

    leg: LegName
    feature: Hole | Slot
    full: Limit | None
    small: Limit | None
    needs_reaming: bool
    code: str


def punched(facts: Facts) -> Iterator[Punched]:
    """Yield each hole and slot that is to be punched, once for each code that speaks of it."""
    for leg, feature in facts.drilled:
        if feature.process in ("punch", "sub-punch-and-ream"):
            for code in _codes(facts, feature):
                yield _under(facts, leg, feature, code)


def _codes(facts: Facts, feature: Hole | Slot) -> tuple[str, ...]:
    if facts.practice.punching is not None:
        return facts.practice.punching
    meant = facts.bolts.get(feature.id)
    codes = facts.practice.codes_for(facts.part.units)
    code = meant.code if meant is not None else codes[0] if codes else ""
    return (_BY_PRACTICE[code],)


def _under(facts: Facts, leg: LegName, feature: Hole | Slot, code: str) -> Punched:
    grade = facts.part.grade or ""
    thickness = facts.part.section.thickness_mm
    meant, known = facts.bolts.get(feature.id), read_grade(grade).grade
    known_strength = strength(grade, thickness)
    of_class = facts.practice.execution_class or USUAL_CLASS
    hole = PunchedHole(
        hole_mm=least_width(feature),
        bolt=None if meant is None else meant.name,
        steel=None if known is None else known.steel,
        yield_mpa=None if known_strength is None else known_strength.yield_mpa,
        execution_class=of_class,
    )
    return Punched(
        leg=leg,
        feature=feature,
        full=thickest_punched(code, hole),
        small=thickest_sub_punched(code, hole),
        needs_reaming=code == _EN and of_class in _REAMED_CLASSES,
        code=code,
    )
