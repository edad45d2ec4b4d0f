"""Which bolt a hole is meant for, when nobody says it."""

from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Final, Literal

from msgspec import Struct

from translator.tables.bolts import INCH_BOLTS, METRIC_BOLTS, read_bolt
from translator.tables.figures import Measure, Source
from translator.tables.holes import ROUNDING_MM, hole_sizes
from translator.tables.published import EDITIONS, edition_of, figure, source_of, table

NEARNESS_MM: Final = 0.05
"""How far a hole may be from a nominal one: what a file loses that writes 0.1 mm."""

Fit = Literal["standard", "customary", "other edition", "oversize"]

_LIKELIEST_FIRST: Final[tuple[Fit, ...]] = ("standard", "customary", "other edition", "oversize")


class FittingBolt(Struct, frozen=True, kw_only=True):
    """A bolt inferred from a hole.

    Attributes:
        bolt: its name.
        fit: standard hole of the practice and edition; a customary hole beside it; standard
            hole of another edition; oversize hole.
        hole: nominal diameter that the hole was taken for.
        kind: the fit in words, for a message: "standard hole", "towers and masts".
        source: of the nominal diameter.
    """

    bolt: str
    fit: Fit
    hole: Measure
    kind: str
    source: Source


def infer_bolt(diameter_mm: float, practice: str, edition: str | None = None) -> str | None:
    """Return the name of the bolt that a hole is most likely meant for; see ``fitting_bolt``."""
    found = fitting_bolt(diameter_mm, practice, edition)
    return None if found is None else found.bolt


@lru_cache(maxsize=4096)
def fitting_bolt(
    diameter_mm: float, practice: str, edition: str | None = None
) -> FittingBolt | None:
    """Return the bolt that a hole (or a slot of that width) is most likely meant for.

    A standard hole of the practice comes first, then a customary hole (14 mm for M12, 17.5 and
    21.5 mm in towers, ISO 273), the standard hole of another edition, an oversize hole. A hole
    within ``ROUNDING_MM`` of any of these goes before one that is only within ``NEARNESS_MM``:
    1-1/16 in. is not a 27 mm hole.

    Returns:
        None when no known hole is that near.

    Raises:
        UnknownNameError: for a practice or edition that is not known.
    """
    edition = edition_of(practice, edition)
    for nearness_mm in (ROUNDING_MM, NEARNESS_MM):
        for fit in _LIKELIEST_FIRST:
            tier = _tier(practice, edition, fit)
            near = [(abs(hole_mm - diameter_mm), n) for n, (hole_mm, _) in enumerate(tier)]
            off, n = min(near, default=(nearness_mm + 1, 0))
            if off <= nearness_mm:
                return tier[n][1]
    return None


@cache
def _tier(practice: str, edition: str, fit: Fit) -> tuple[tuple[float, FittingBolt], ...]:
    """Return all known holes of one kind with their diameters (mm).

    A kind is worked out when it is first asked for: of most files all holes are of the first.
    """
    if fit == "customary":
        found = _customary(practice)
    else:
        editions = EDITIONS[practice] if fit == "other edition" else (edition,)
        found = _from_tables(practice, editions, fit)
    return tuple((bolt.hole.mm, bolt) for bolt in found)


def _from_tables(practice: str, editions: tuple[str, ...], fit: Fit) -> Iterator[FittingBolt]:
    for edition in editions:
        for bolt in INCH_BOLTS + METRIC_BOLTS:
            sizes = hole_sizes(bolt, practice, edition)
            if sizes is None:
                continue
            yield FittingBolt(
                bolt=bolt,
                fit=fit,
                hole=sizes.oversize if fit == "oversize" else sizes.standard,
                kind=_KINDS[fit].format(edition=edition),
                source=sizes.source,
            )


_KINDS: Final = {
    "standard": "standard hole",
    "other edition": "standard hole of {edition}",
    "oversize": "oversize hole",
}


def _customary(practice: str) -> Iterator[FittingBolt]:
    for row in table("customary_holes.csv"):
        hole = figure(row["hole"], read_bolt(row["bolt"]).unit)
        if practice in row["practice"].split() and hole is not None:
            yield FittingBolt(
                bolt=row["bolt"],
                fit="customary",
                hole=hole,
                kind=row["kind"],
                source=source_of(row),
            )
