"""Thickest steel that a code lets a shop punch, and how small a sub-punched hole must be.

Codes (``punching_codes``): aisc-before-2000, ufgs (US federal guide specification), en-1090-2,
aashto, as-4100, csa-s16, and tool, which is a fact of the trade and no code. AISC has had no
limit of its own since then, from memory.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Literal

from msgspec import Struct

from translator.errors import UnknownNameError
from translator.lengths.parse import INCH, Unit
from translator.tables.bolts import read_bolt
from translator.tables.figures import Limit, Measure, exact
from translator.tables.published import figure, number, source_of, table

Steel = Literal["carbon", "high-strength", "quenched", "stainless"]
"""What the limits tell apart; ``grades`` says it of a grade."""


class PunchedHole(Struct, frozen=True, kw_only=True):
    """A hole that is to be punched; what is not known is None and leaves a limit unsaid.

    Attributes:
        hole_mm: finished diameter, or the least width of a slot or opening.
        bolt: name of the bolt.
        steel: kind of steel.
        yield_mpa: yield point.
        execution_class: 1 to 4, of EN 1090-2.
    """

    hole_mm: float
    bolt: str | None = None
    steel: Steel | None = None
    yield_mpa: float | None = None
    execution_class: int | None = None


def punching_codes() -> tuple[str, ...]:
    """Return the names of the codes, in the order of the table."""
    return tuple(dict.fromkeys(row["code"] for row in table("punching_limits.csv")))


def thickest_punched(code: str, hole: PunchedHole) -> Limit | None:
    """Return the thickest steel in which a hole may be punched to its full size.

    None where the code sets no limit for such a hole, or needs what is not known. A limit of 0
    means that it may not be punched in any thickness.

    Raises:
        UnknownNameError: for a code or a spelling of a bolt that is not known.
    """
    for row in _rows(code, hole):
        if row["yield_product"]:
            return _by_yield(row, hole)
        return _limit(row, row["full_size"], hole)
    return None


def thickest_sub_punched(code: str, hole: PunchedHole) -> Limit | None:
    """Return the thickest steel in which a hole may be punched small and reamed.

    None and errors as ``thickest_punched``.
    """
    for row in _rows(code, hole):
        return _limit(row, row["sub_punched"], hole)
    return None


def largest_sub_punch(code: str, hole: PunchedHole) -> Limit | None:
    """Return the largest punch for a hole that is reamed after it.

    None and errors as ``thickest_punched``.
    """
    for row in _rows(code, hole):
        size = _size(row["small_of"], hole) if row["small_of"] else None
        if size is None:
            return None
        unit = _unit(row)
        value = _in(unit, size) - number(row["small_under"])
        return Limit(measure=Measure(value=value, unit=unit), source=source_of(row))
    return None


def _rows(code: str, hole: PunchedHole) -> Iterator[Mapping[str, str]]:
    """Yield the rows of a code that speak of a hole."""
    if code not in punching_codes():
        raise UnknownNameError(f"{code!r} is no punching code: it is one of {punching_codes()}")
    for row in table("punching_limits.csv"):
        if row["code"] != code or (row["steel"] and hole.steel not in row["steel"].split()):
            continue
        if row["classes"] and str(hole.execution_class) not in row["classes"].split():
            continue
        yield row


def _limit(row: Mapping[str, str], cell: str, hole: PunchedHole) -> Limit | None:
    unit = _unit(row)
    size = _size(row["of"], hole)
    if size is None or not cell:
        return None
    measure = figure(cell, unit, _in(unit, size))
    return None if measure is None else Limit(measure=measure, source=source_of(row))


def _by_yield(row: Mapping[str, str], hole: PunchedHole) -> Limit | None:
    if hole.yield_mpa is None or hole.yield_mpa <= 0:
        return None
    strength = Fraction(hole.yield_mpa)
    is_soft = strength <= number(row["most_yield"])
    value = number(row["yield_product"]) / strength if is_soft else Fraction(0)
    return Limit(measure=Measure(value=value, unit=_unit(row)), source=source_of(row))


def _size(of: str, hole: PunchedHole) -> Fraction | None:
    """Return the size in millimetres that a row counts from."""
    if of == "hole":
        return exact(hole.hole_mm)
    return None if hole.bolt is None else read_bolt(hole.bolt).diameter.exact_mm


def _unit(row: Mapping[str, str]) -> Unit:
    return "inch" if row["unit"] == "inch" else "mm"


def _in(unit: Unit, mm: Fraction) -> Fraction:
    return mm / INCH if unit == "inch" else mm
