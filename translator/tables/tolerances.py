"""Tolerances of rolled sections and of fabrication, for an inspection sheet.

Standards: EN 10056-2, ASTM A6, AISC 303, EN 1090-2, RCSC. Most are from memory; each row says.
"""

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from translator.errors import UnknownNameError
from translator.lengths.grid import on_grid
from translator.lengths.parse import INCH
from translator.tables.figures import Source, exact
from translator.tables.published import is_within, number, source_of, table


class Tolerance(Struct, frozen=True, kw_only=True):
    """How far a measured size may be from the nominal one.

    Attributes:
        lower: lowest deviation in ``unit``, None where the standard sets none.
        upper: highest deviation in ``unit``.
        share: what each side widens by for each unit of the size that ``share_of`` names.
        share_of: "length", "leg", "depth", or "" for nothing.
        unit: "mm", "inch" or "%".
        note: a further condition, in words; "" for none.
        source: standard and clause.
    """

    lower: Fraction | None
    upper: Fraction
    share: Fraction
    share_of: str
    unit: str
    note: str
    source: Source

    def deviations(self, size_mm: float = 0.0) -> tuple[float | None, float]:
        """Return lowest and highest deviation in millimetres, or in per cent for unit "%".

        Args:
            size_mm: the size that ``share_of`` names; not looked at where it is "".
        """
        scale = INCH if self.unit == "inch" else Fraction(1)
        wider = self.share * exact(size_mm)
        lower = None if self.lower is None else on_grid(self.lower * scale - wider)
        return lower, on_grid(self.upper * scale + wider)


def quantities(standard: str) -> tuple[str, ...]:
    """Return what a standard gives tolerances for: "leg", "cut length", ..."""
    rows = (row for row in table("tolerances.csv") if row["standard"] == standard)
    return tuple(dict.fromkeys(row["quantity"] for row in rows))


def standards() -> tuple[str, ...]:
    """Return the names of the standards."""
    return tuple(dict.fromkeys(row["standard"] for row in table("tolerances.csv")))


def range_of(standard: str, quantity: str) -> str:
    """Return which size chooses the row: "leg", "thickness", "length", or "" for none.

    Raises:
        UnknownNameError: for a standard or quantity that is not in the tables.
    """
    return _rows(standard, quantity)[0]["range_of"]


def tolerance(
    standard: str,
    quantity: str,
    size_mm: float = 0.0,
    *,
    tolerance_class: int | None = None,
    units: str | None = None,
) -> Tolerance | None:
    """Return the tolerance of a quantity, None if the standard has none for the size.

    Args:
        standard: one of ``standards``.
        quantity: one of its ``quantities``.
        size_mm: nominal size of what ``range_of`` names; the longer leg of an angle.
        tolerance_class: 1 or 2 of EN 1090-2; other standards have none.
        units: "inch" or "mm" where the standard gives both (AISC 303); None takes inches.

    Raises:
        UnknownNameError: for a standard or quantity that is not in the tables.
    """
    size = exact(size_mm)
    for row in _rows(standard, quantity):
        if row["class"] and row["class"] != str(tolerance_class):
            continue
        if units is not None and row["unit"] not in (units, "%"):
            continue
        scaled = size / INCH if row["unit"] == "inch" else size
        if is_within(scaled, (row["from"], row["to"])):
            return _tolerance(row)
    return None


def _rows(standard: str, quantity: str) -> tuple[Mapping[str, str], ...]:
    rows = tuple(
        row
        for row in table("tolerances.csv")
        if row["standard"] == standard and row["quantity"] == quantity
    )
    if not rows:
        raise UnknownNameError(f"there is no tolerance {quantity!r} of {standard!r}")
    return rows


def _tolerance(row: Mapping[str, str]) -> Tolerance:
    return Tolerance(
        lower=number(row["lower"]) if row["lower"] else None,
        upper=number(row["upper"]),
        share=number(row["share"]) if row["share"] else Fraction(0),
        share_of=row["share_of"],
        unit=row["unit"],
        note=row["note"],
        source=source_of(row),
    )
