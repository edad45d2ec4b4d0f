"""What is known of a part's grade: its name, and the highest tensile strength to reckon with."""

from collections.abc import Iterable
from typing import Protocol, TypeVar

from msgspec import Struct

from translator.lengths.characters import shown
from translator.machines.profile import Machine
from translator.model import Part
from translator.tables.grades import read_grade, strength


class _ByGrade(Protocol):
    @property
    def grade(self) -> str | None: ...


Entry = TypeVar("Entry", bound=_ByGrade)


class SteelAtHand(Struct, frozen=True, kw_only=True):
    """A part's steel.

    Attributes:
        name: grade as the part states it, or as the machine assumes it; "" for none.
        is_assumed: whether the machine assumes it.
        tensile_most_mpa: highest tensile strength; None when it is not known.
        why_unknown: a clause on why it is not, "" when it is.
        is_from_memory: whether nothing but memory stands behind the strength.
    """

    name: str
    is_assumed: bool
    tensile_most_mpa: float | None
    why_unknown: str
    is_from_memory: bool = False


def steel_at_hand(machine: Machine, part: Part) -> SteelAtHand:
    """Look a part's grade up: first among the shop's own figures, then in the tables."""
    name = part.grade or machine.assumed_grade or ""
    thickness = part.section.thickness_mm
    most, why = _tensile_most(machine, name, thickness)
    listed = strength(name, thickness) if most is not None else None
    own = for_grade(machine.steels, name)
    return SteelAtHand(
        name=name,
        is_assumed=part.grade is None and bool(name),
        tensile_most_mpa=most,
        why_unknown=why,
        is_from_memory=own is None and listed is not None and listed.source.is_from_memory,
    )


def for_grade(entries: Iterable[Entry], grade: str) -> Entry | None:
    """Return the entry that names a grade, else the one that stands for any grade."""
    entries = tuple(entries)
    key = _key(grade)
    for entry in entries:
        if grade and entry.grade is not None and _key(entry.grade) == key:
            return entry
    return next((entry for entry in entries if entry.grade is None), None)


def _tensile_most(machine: Machine, grade: str, thickness_mm: float) -> tuple[float | None, str]:
    if not grade:
        return None, "no grade is stated"
    own = for_grade(machine.steels, grade)
    if own is not None:
        return own.tensile_most_mpa, ""
    if read_grade(grade).grade is None:
        return None, f"the grade {shown(grade)} is not known"
    found = strength(grade, thickness_mm)
    if found is None:
        return None, f"the tables have no strength of {grade} in this thickness"
    if found.tensile_most_mpa is None:
        return None, f"the standard sets no highest tensile strength for {grade}"
    return found.tensile_most_mpa, ""


def _key(grade: str) -> str:
    """Return what a grade's strengths stand under; its own spelling when no table has it."""
    found = read_grade(grade).grade
    return found.key if found is not None else " ".join(grade.upper().split())
