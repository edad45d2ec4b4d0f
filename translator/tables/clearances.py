"""Room to enter and tighten bolts: AISC Manual, LRFD 2nd ed., Table 8-4 (later 7-15 and 7-16).

How the trade uses it on an angle (from memory): the clearance of a bolt is its gauge less the
thickness of the other leg. It needs C1 to be tightened, C2 to be entered; its gauge less k
(thickness and root radius) needs C3 for the washer to clear the fillet. Bolts in the other leg
stick out by H2, or by H1 on the side of the head; beside them the stagger is looked up.
"""

from collections.abc import Mapping
from fractions import Fraction
from functools import cache, lru_cache
from types import MappingProxyType

from msgspec import Struct

from translator.tables.bolts import read_bolt, row_for
from translator.tables.figures import Limit, Measure, Source, exact
from translator.tables.published import number, source_of, table


class WrenchRoom(Struct, frozen=True, kw_only=True):
    """What a bolt needs around it.

    Attributes:
        socket: diameter of the socket.
        head: height of the head, H1.
        shank: the most the shank sticks out, H2.
        tighten: from the bolt's axis to what stands beside it, to tighten, C1.
        enter: the same, to enter, C2.
        clear_fillet: the same to the end of the fillet, round washer, C3.
        clear_fillet_clipped: C3 with a clipped washer.
        doubtful: names (C1, ...) of figures that the page seen does not show.
        source: table and edition.
    """

    socket: Measure
    head: Measure
    shank: Measure
    tighten: Measure
    enter: Measure
    clear_fillet: Measure
    clear_fillet_clipped: Measure
    doubtful: tuple[str, ...]
    source: Source


class Stagger(Struct, frozen=True, kw_only=True):
    """How far a bolt must stand from one in the other leg, along the piece.

    Attributes:
        is_possible: False where the clearance is less than C1, so that no stagger helps.
        least: the least stagger, 0 where the bolts may stand side by side.
    """

    is_possible: bool
    least: Limit


@lru_cache(maxsize=1024)
def wrench_room(bolt: str) -> WrenchRoom | None:
    """Return the clearances of a bolt, None if the table has none (metric, under 5/8 in.).

    Raises:
        UnknownNameError: for a spelling of a bolt that is not known.
    """
    row = row_for(read_bolt(bolt), table("bolt_clearances.csv"))
    if row is None:
        return None
    return WrenchRoom(
        **{name: _inches(row[column]) for name, column in _COLUMNS.items()},
        doubtful=tuple(row["doubtful"].split()),
        source=source_of(row),
    )


@lru_cache(maxsize=4096)
def stagger_min(bolt: str, clearance_mm: float) -> Stagger | None:
    """Return the least stagger from a bolt in the other leg, None if the table has none.

    Between two rows the nearer wall counts, so the figure is on the safe side. From a clearance
    of C1 + H2 on, the bolts may stand side by side: the row that would follow the last one for
    each bolt that the table has.

    Args:
        bolt: name of the bolt.
        clearance_mm: F, from the bolt's axis to the inside face of the other leg.

    Raises:
        UnknownNameError: for a spelling of a bolt that is not known.
    """
    room = wrench_room(bolt)
    rows = _staggers().get(read_bolt(bolt).name)
    if room is None or rows is None:
        return None
    clearance = exact(clearance_mm)
    least = next((row for row in reversed(rows) if row[0].exact_mm <= clearance), rows[0])[1]
    if clearance >= room.tighten.exact_mm + room.shank.exact_mm:
        least = Limit(measure=Measure(value=Fraction(0), unit="inch"), source=least.source)
    return Stagger(is_possible=clearance >= room.tighten.exact_mm, least=least)


_COLUMNS = MappingProxyType(
    {
        "socket": "socket",
        "head": "H1",
        "shank": "H2",
        "tighten": "C1",
        "enter": "C2",
        "clear_fillet": "C3_round",
        "clear_fillet_clipped": "C3_clipped",
    }
)


def _inches(cell: str) -> Measure:
    return Measure(value=number(cell), unit="inch")


@cache
def _staggers() -> Mapping[str, tuple[tuple[Measure, Limit], ...]]:
    found: dict[str, list[tuple[Measure, Limit]]] = {}
    for row in table("bolt_staggers.csv"):
        least = Limit(measure=_inches(row["P"]), source=source_of(row))
        found.setdefault(row["bolt"], []).append((_inches(row["F"]), least))
    return MappingProxyType({bolt: tuple(rows) for bolt, rows in found.items()})
