"""Least distance from a hole to an edge: AISC 360 Tables J3.4 and J3.5, EN 1993-1-8 Table 3.3.

AISC distances are measured from the centre of the hole or slot. 360-05 told sheared edges from
rolled and cut ones; that ended in 2010 and has no effect under a later edition.
"""

from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import Final, Literal

from translator.errors import UnknownNameError
from translator.tables.bolts import Bolt, read_bolt, row_for
from translator.tables.eurocode_distances import eurocode_minimum
from translator.tables.figures import Limit, Measure, Source, exact
from translator.tables.holes import hole_sizes
from translator.tables.published import edition_of, figure, source_of, table

Opening = Literal["standard", "oversize", "short-slot-across", "long-slot-across", "slot-along"]
"""A hole or slot as an edge sees it: a slot lies across (square to) the edge or along it."""

_COLUMNS: Final = MappingProxyType(
    {
        "oversize": "oversize",
        "short-slot-across": "short_slot_across",
        "long-slot-across": "long_slot_across",
        "slot-along": "slot_along",
    }
)


@lru_cache(maxsize=1024)
def edge_distance_min(
    bolt: str,
    practice: str,
    edition: str | None = None,
    *,
    is_sheared: bool = False,
    is_beam_connection_end: bool = False,
) -> Limit | None:
    """Return the least distance from the centre of a standard hole to an edge.

    Under eu it is e1 = e2 = 1.2 d0 of the bolt's normal hole; for another hole see
    ``eurocode_minimum``. None if the practice has no figure for the bolt.

    Args:
        bolt: name of the bolt.
        practice: "us" or "eu".
        edition: of the practice, None for the newest.
        is_sheared: the edge is sheared; only 360-05 makes a difference.
        is_beam_connection_end: a sheared end of a beam connection angle or shear end plate,
            for which 360-05 lets some bolts have 1-1/4 in. (32 mm).

    Raises:
        UnknownNameError: for a practice, edition or spelling of a bolt that is not known.
    """
    edition = edition_of(practice, edition)
    size = read_bolt(bolt)
    if practice == "eu":
        sizes = hole_sizes(bolt, practice, edition)
        return None if sizes is None else eurocode_minimum("e1", sizes.standard.mm)
    row = row_for(size, table("edge_distances.csv"), edition)
    if row is None:
        return None
    cell = row["cut"]
    if is_sheared:
        cell = row["sheared"] or cell
        cell = (row["sheared_beam_end"] or cell) if is_beam_connection_end else cell
    measure = figure(cell, size.unit, size.diameter.value)
    return None if measure is None else Limit(measure=measure, source=source_of(row, edition))


@lru_cache(maxsize=1024)
def edge_increment_c2(
    bolt: str,
    opening: Opening,
    edition: str | None = None,
    *,
    slot_length_mm: float | None = None,
) -> Limit | None:
    """Return C2 of AISC 360 Table J3.5, added to the least edge distance of a standard hole.

    None if the table has no figure for the bolt, or for a standard hole, which gets none.

    Args:
        bolt: name of the bolt.
        opening: what the hole or slot is to the edge.
        edition: of AISC 360, None for the newest.
        slot_length_mm: overall length of a slot across the edge; C2 then drops by half of what
            the slot is shorter than the table allows, not below 0.

    Raises:
        UnknownNameError: for an edition, an opening or a spelling of a bolt that is not known.
    """
    edition = edition_of("us", edition)
    size = read_bolt(bolt)
    if opening == "standard":
        return None
    column = _COLUMNS.get(opening)
    if column is None:
        raise UnknownNameError(f"{opening!r} is no opening of the table of C2")
    row = row_for(size, table("edge_increments.csv"), edition)
    measure = None if row is None else figure(row[column], size.unit, size.diameter.value)
    if row is None or measure is None:
        return None
    if slot_length_mm is not None:
        measure = _reduced(measure, size, opening, edition, slot_length_mm)
    return Limit(measure=measure, source=source_of(row, edition))


@lru_cache(maxsize=1024)
def edge_distance_for_approval(bolt: str, edition: str | None = None) -> Limit:
    """Return the distance of one bolt diameter, below which AISC 360 asks for the engineer.

    The note to Table J3.4 lets an engineer go below the table, and below this only with the
    approval of the engineer of record.

    Raises:
        UnknownNameError: for an edition or a spelling of a bolt that is not known.
    """
    edition = edition_of("us", edition)
    size = read_bolt(bolt)
    title = f"AISC {edition} Table J3.4, note"
    source = Source(title=title, edition=edition, trust="published copy")
    return Limit(measure=size.diameter, source=source)


def _reduced(
    c2: Measure, bolt: Bolt, opening: Opening, edition: str, slot_length_mm: float
) -> Measure:
    """Return C2 less half of what a slot is shorter than the longest of its class."""
    sizes = hole_sizes(bolt.name, "us", edition)
    if sizes is None or not opening.endswith("-across"):
        return c2
    longest = sizes.short_slot_l if opening.startswith("short") else sizes.long_slot_l
    unused = max(longest.exact_mm - exact(slot_length_mm), Fraction(0)) / 2
    per_unit = bolt.diameter.exact_mm / bolt.diameter.value
    return Measure(value=max(c2.value - unused / per_unit, Fraction(0)), unit=c2.unit)
