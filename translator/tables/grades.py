"""Steel grades: ASTM (A36, A529, A572, A588, A709, A992) and EN 10025-2, by thickness."""

from collections.abc import Mapping
from fractions import Fraction
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.lengths.parse import INCH
from translator.tables.figures import Source, exact
from translator.tables.grade_names import Named, read_name
from translator.tables.published import is_within, number, source_of, table
from translator.tables.punching import Steel

MPA_PER_KSI: Final = Fraction("0.45359237") * Fraction("9.80665") * 1000 / INCH**2
"""Megapascals in 1000 pounds per square inch, exact by definition since 1959."""


class Grade(Struct, frozen=True, kw_only=True):
    """A grade of the tables.

    Attributes:
        name: as the tables write it: ``A572-50``, ``S355J2``, with the treatment if one was
            written: ``S355J2+N``.
        key: the name that the strengths stand under: ``A572-50``, ``S355``.
        steel: what punching limits tell apart (from memory).
    """

    name: str
    key: str
    steel: Steel


class GradeReading(Struct, frozen=True, kw_only=True):
    """What a text says about the grade.

    Attributes:
        grade: None if the text is no grade of the tables.
        note: a sentence where the text is another name of the grade, else None.
        fault: a sentence on why it is no grade of the tables, else None.
    """

    grade: Grade | None
    note: str | None = None
    fault: str | None = None


class Strength(Struct, frozen=True, kw_only=True):
    """Strength of a grade at a thickness, in megapascals.

    Attributes:
        yield_mpa: least yield point.
        tensile_least_mpa: least tensile strength.
        tensile_most_mpa: highest tensile strength, None where the standard sets none.
        source: standard and table.
    """

    yield_mpa: float
    tensile_least_mpa: float
    tensile_most_mpa: float | None
    source: Source


@lru_cache(maxsize=1024)
def read_grade(text: str) -> GradeReading:
    """Read a grade as people write it: ``A572 Gr. 50``, ``ASTM A36/A36M``, ``S 355 J2+N``.

    Older and other names (``St37-2``, ``1.0044``, ``A572M-345``) are read with a note.
    """
    named = read_name(text, _qualities())
    if named.fault is not None:
        return GradeReading(grade=None, fault=named.fault)
    return GradeReading(grade=_grade(named), note=named.note)


@lru_cache(maxsize=1024)
def strength(grade: str, thickness_mm: float) -> Strength | None:
    """Return the strength of a grade at a thickness.

    Args:
        grade: as people write it, see ``read_grade``.
        thickness_mm: of the piece.

    Returns:
        None if the text is no grade of the tables, or they say nothing for the thickness.
    """
    found = read_grade(grade).grade
    if found is None:
        return None
    for row in table("steel_grades.csv"):
        is_us = row["unit"] == "ksi"
        thickness = exact(thickness_mm) / (INCH if is_us else 1)
        bounds = (row["from_thickness"], row["to_thickness"])
        if row["grade"] == found.key and is_within(thickness, bounds):
            return _strength(row, MPA_PER_KSI if is_us else Fraction(1))
    return None


def all_grades() -> tuple[str, ...]:
    """Return the names of all grades, EN grades with each of their qualities."""
    return tuple(
        key + quality for key, qualities in _qualities().items() for quality in qualities or ("",)
    )


@cache
def _qualities() -> Mapping[str, tuple[str, ...]]:
    rows = table("steel_grades.csv")
    return MappingProxyType({row["grade"]: tuple(row["qualities"].split()) for row in rows})


def _grade(named: Named) -> Grade:
    row = next(row for row in table("steel_grades.csv") if row["grade"] == named.key)
    steel: Steel = "carbon" if row["steel"] == "carbon" else "high-strength"
    return Grade(name=named.name, key=named.key, steel=steel)


def _strength(row: Mapping[str, str], scale: Fraction) -> Strength:
    most = row["tensile_most"]
    return Strength(
        yield_mpa=float(number(row["yield"]) * scale),
        tensile_least_mpa=float(number(row["tensile_least"]) * scale),
        tensile_most_mpa=float(number(most) * scale) if most else None,
        source=source_of(row),
    )
