"""Least distances of EN 1993-1-8:2005 Table 3.3, as multiples of the hole diameter d0."""

from functools import lru_cache
from typing import Literal

from msgspec import Struct

from translator.errors import UnknownNameError
from translator.tables.figures import Limit, Measure, exact
from translator.tables.published import number, source_of, table

Symbol = Literal["e1", "e2", "e3", "e4", "p1", "p2"]
"""Distances of Table 3.3.

e1, e2: centre of a hole to the end and to the edge, along and across the load. e3: axis of a
slot to the edge beside it. e4: centre of a slot's end radius to the edge ahead. p1, p2: centre
to centre along and across the load.
"""


class StaggeredMinimum(Struct, frozen=True, kw_only=True):
    """What staggered rows need instead of p2; both figures are from memory.

    Attributes:
        across: least distance between the rows, 1.2 d0.
        diagonal: least distance between any two holes, 2.4 d0, for that.
    """

    across: Limit
    diagonal: Limit


@lru_cache(maxsize=4096)
def eurocode_minimum(symbol: Symbol, hole_mm: float) -> Limit:
    """Return the least distance for holes of a diameter d0, for slots of that width.

    Source: EN 1993-1-8:2005 Table 3.3.

    Raises:
        UnknownNameError: for a symbol that is not in the table.
    """
    if symbol not in ("e1", "e2", "e3", "e4", "p1", "p2"):
        raise UnknownNameError(f"{symbol!r} is no distance of EN 1993-1-8 Table 3.3")
    return _times_hole(symbol, hole_mm)


def staggered_minimum(hole_mm: float) -> StaggeredMinimum:
    """Return how close staggered rows of holes of a diameter d0 may come (from memory)."""
    return StaggeredMinimum(
        across=_times_hole("p2_staggered", hole_mm), diagonal=_times_hole("diagonal", hole_mm)
    )


def _times_hole(symbol: str, hole_mm: float) -> Limit:
    row = next(row for row in table("eurocode_minima.csv") if row["symbol"] == symbol)
    value = number(row["times_hole"]) * exact(hole_mm)
    return Limit(measure=Measure(value=value, unit="mm"), source=source_of(row))
