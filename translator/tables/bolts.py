"""Bolts by name: their diameter, and the row of a table that speaks of them."""

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Final

from msgspec import Struct

from translator.errors import UnknownNameError
from translator.lengths.parse import Unit
from translator.tables.figures import Measure
from translator.tables.published import is_within, number

INCH_BOLTS: Final = ("1/2", "5/8", "3/4", "7/8", "1", "1-1/8", "1-1/4", "1-3/8", "1-1/2")
"""The structural bolts named in inches."""

METRIC_BOLTS: Final = ("M12", "M14", "M16", "M18", "M20", "M22", "M24", "M27", "M30", "M33", "M36")
"""The structural bolts named in millimetres."""

_NAME: Final = re.compile(r"M[1-9][0-9]{0,2}|([1-9][0-9]?-)?[1-9][0-9]?/[1-9][0-9]?|[1-9][0-9]?")


class Bolt(Struct, frozen=True, kw_only=True):
    """A bolt size.

    Attributes:
        name: ``M20``, or inches as ``3/4``, ``1``, ``1-1/8``.
        diameter: nominal, exact, in the unit of the name.
    """

    name: str
    diameter: Measure

    @property
    def unit(self) -> Unit:
        """The unit of the name."""
        return self.diameter.unit


@lru_cache(maxsize=1024)
def read_bolt(name: str) -> Bolt:
    """Return the bolt of a name as the part model spells it; any size, common or not.

    Raises:
        UnknownNameError: for any other spelling.
    """
    if not _NAME.fullmatch(name):
        raise UnknownNameError(f"{name!r} is no bolt: write it like M20, 3/4 or 1-1/8")
    is_metric = name.startswith("M")
    value = Fraction(name[1:]) if is_metric else number(name)
    return Bolt(name=name, diameter=Measure(value=value, unit="mm" if is_metric else "inch"))


def row_for(
    bolt: Bolt, rows: Iterable[Mapping[str, str]], edition: str | None = None
) -> Mapping[str, str] | None:
    """Return the first row that speaks of a bolt, of an edition unless None; None if none does.

    A row names one bolt or, as ``>=1-1/8`` and ``>M36``, all larger ones of its unit.
    """
    for row in rows:
        if edition is not None and edition not in row["edition"].split():
            continue
        if _names(row["bolt"], bolt):
            return row
    return None


def _names(cell: str, bolt: Bolt) -> bool:
    if cell == bolt.name:
        return True
    if ("M" in cell) != (bolt.unit == "mm"):
        return False
    if not cell.startswith(">"):
        return read_bolt(cell).diameter == bolt.diameter
    return is_within(bolt.diameter.value, (cell.replace("M", ""), ""))
