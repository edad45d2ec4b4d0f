"""Spacing of bolts: AISC 360 J3.3 (J3.4 in 360-22), EN 1993-1-8 Table 3.3."""

from functools import lru_cache

from translator.tables.bolts import read_bolt
from translator.tables.eurocode_distances import eurocode_minimum
from translator.tables.figures import Limit
from translator.tables.holes import hole_sizes
from translator.tables.published import edition_of, figure, source_of, table


@lru_cache(maxsize=1024)
def spacing_min(
    bolt: str, practice: str, edition: str | None = None, *, is_across_load: bool = False
) -> Limit | None:
    """Return the least distance from centre to centre of two bolts.

    us: 2-2/3 d. eu: p1 = 2.2 d0 along the load, p2 = 2.4 d0 across it, of the bolt's normal
    hole; for another hole see ``eurocode_minimum``, for staggered rows ``staggered_minimum``.
    None if eu has no hole for the bolt.

    Raises:
        UnknownNameError: for a practice, edition or spelling of a bolt that is not known.
    """
    edition = edition_of(practice, edition)
    if practice == "us":
        return _times_bolt("least", bolt, edition)
    sizes = hole_sizes(bolt, practice, edition)
    if sizes is None:
        return None
    return eurocode_minimum("p2" if is_across_load else "p1", sizes.standard.mm)


def spacing_preferred(bolt: str, edition: str | None = None) -> Limit | None:
    """Return the spacing that AISC 360 prefers, 3 d.

    Raises:
        UnknownNameError: for an edition or a spelling of a bolt that is not known.
    """
    return _times_bolt("preferred", bolt, edition_of("us", edition))


def clear_distance_min(bolt: str, practice: str, edition: str | None = None) -> Limit | None:
    """Return the least steel between the edges of two holes or slots, d under AISC 360.

    None where the code says nothing of it: AISC 360-10 and before, eu.

    Raises:
        UnknownNameError: for a practice, edition or spelling of a bolt that is not known.
    """
    edition = edition_of(practice, edition)
    read_bolt(bolt)
    return _times_bolt("clear", bolt, edition) if practice == "us" else None


@lru_cache(maxsize=1024)
def _times_bolt(what: str, bolt: str, edition: str) -> Limit | None:
    size = read_bolt(bolt)
    for row in table("spacings.csv"):
        if row["what"] == what and row["edition"] == edition:
            measure = figure(row["limit"], size.unit, size.diameter.value)
            if measure is not None:
                return Limit(measure=measure, source=source_of(row))
    return None
