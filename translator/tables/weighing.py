"""Settle whether the bare sizes of a section are inches or millimetres."""

from collections.abc import Sequence
from enum import IntEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from translator.lengths.characters import shown
from translator.lengths.grid import on_grid
from translator.lengths.parse import INCH, Unit
from translator.lengths.spell import mm_text
from translator.tables.angles import ListedAngle, all_angles, by_sizes
from translator.tables.profiles import Kind
from translator.tables.sizes import SectionNameError, Size

_UNIT_WORDS: Final = MappingProxyType({"inch": "inches", "mm": "millimetres"})
_THICKEST_ANGLE: Final = Fraction(6, 10)
"""Of the shorter leg; the tables stay under 0.26."""


class Credit(IntEnum):
    """How believable a section is in a unit."""

    IMPOSSIBLE = 0
    UNUSUAL = 1
    USUAL = 2
    LISTED = 3


_BOUNDS: Final = MappingProxyType(
    {
        ("angle", "inch"): (
            (0.5, 12, 0.0625, 2, Credit.USUAL),
            (0.25, 16, 0.03, 2, Credit.UNUSUAL),
        ),
        ("angle", "mm"): (
            (15, 300, 2, 40, Credit.USUAL),
            (13, 600, 1.5, 80, Credit.UNUSUAL),
        ),
        ("flat", "inch"): (
            (0.25, 24, 0.0625, 2, Credit.USUAL),
            (0.25, 12, 0.03, 4, Credit.UNUSUAL),
        ),
        ("flat", "mm"): (
            (10, 1000, 2, 100, Credit.USUAL),
            (10, 3000, 0.5, 200, Credit.UNUSUAL),
        ),
    }
)
"""Least and most of the legs or the width, least and most of the thickness, in the unit.

Common practice, no source. They only choose between two readings of a bare number.
"""


def listed_as(sizes: Sequence[Size], unit: Unit) -> ListedAngle | None:
    """Return the table row that two legs and a thickness name.

    Exactly, in either leg order, or else a US size by the sizes rounded as typed: its metric
    name (``L102x89x9.5``) or its decimal one (``L4x3.5x.38``).
    """
    leg_a, leg_b, thickness = (on_grid(size.mm(unit)) for size in sizes)
    exact = by_sizes(leg_a, leg_b, thickness)
    if exact is not None:
        return exact
    long, short = (sizes[0], sizes[1]) if leg_a >= leg_b else (sizes[1], sizes[0])
    for row in _us_rows_near(max(leg_a, leg_b), min(leg_a, leg_b), thickness):
        if (
            long.may_mean(row.leg_a_mm, unit)
            and short.may_mean(row.leg_b_mm, unit)
            and sizes[2].may_mean(row.thickness_mm, unit)
        ):
            return row
    return None


def _us_rows_near(long_mm: float, short_mm: float, thickness_mm: float) -> list[ListedAngle]:
    """Return the US sizes that rounding may have led to: it never moves a size by 1 mm."""
    return [
        row
        for row in all_angles()
        if row.standard == "AISC"
        and abs(row.leg_a_mm - long_mm) < 1
        and abs(row.leg_b_mm - short_mm) < 1
        and abs(row.thickness_mm - thickness_mm) < 1
    ]


def settled_unit(
    text: str, kind: Kind, sizes: Sequence[Size], units: Unit, told: Unit | None
) -> tuple[Unit, str]:
    """Return the unit of the bare sizes, and a note, "" if none is due.

    Args:
        text: the name, for the sentences.
        kind: angle or flat.
        sizes: two legs and a thickness, or width and thickness.
        units: what a bare number takes in this file.
        told: the unit that the name itself tells, or None.

    Raises:
        SectionNameError: when both units make sense but the other one more, or neither does.
    """
    unit = told or units
    if all(size.says for size in sizes):
        return unit, ""
    other: Unit = "inch" if unit == "mm" else "mm"
    here = _credit(kind, sizes, unit)
    there = Credit.IMPOSSIBLE if told else _credit(kind, sizes, other)
    if here > there or here == there == Credit.USUAL:
        return unit, ""
    if here > Credit.IMPOSSIBLE:
        bare = [mm_text(size.length.bare or 0) for size in sizes]
        raise SectionNameError(
            f"{shown(text)} could be inches or millimetres: mark the sizes,"
            f" {'x'.join(size + chr(34) for size in bare)} or {'mmx'.join(bare)}mm."
        )
    if there == Credit.IMPOSSIBLE:
        raise SectionNameError(
            f"{shown(text)} does not exist in {_UNIT_WORDS[unit]}: check its sizes"
            ' (a mark on each, like 4" or 100mm, makes any size count as typed).'
        )
    return other, (
        f"{shown(text)} is read in {_UNIT_WORDS[other]}: it does not exist in"
        f" {_UNIT_WORDS[unit]}, which bare numbers are here."
    )


def _credit(kind: Kind, sizes: Sequence[Size], unit: Unit) -> Credit:
    if kind == "angle" and listed_as(sizes, unit) is not None:
        return Credit.LISTED
    *wide, thick = (size.mm(unit) / (INCH if unit == "inch" else 1) for size in sizes)
    if kind == "angle" and thick > _THICKEST_ANGLE * min(wide):
        return Credit.IMPOSSIBLE
    for least, most, thinnest, thickest, worth in _BOUNDS[kind, unit]:
        if least <= min(wide) and max(wide) <= most and thinnest <= thick <= thickest:
            return worth
    return Credit.IMPOSSIBLE
