"""Holes and slots for bolts: AISC 360 Tables J3.3 and J3.3M, EN 1090-2 Table 11.

Diameters and slot sizes of a part are held against a table with ``ROUNDING_MM`` of slack, what
a file loses that writes hundredths of a millimetre.
"""

from functools import lru_cache
from typing import Final, Literal

from msgspec import Struct

from translator.tables.bolts import read_bolt, row_for
from translator.tables.figures import Limit, Measure, Source
from translator.tables.published import edition_of, figure, source_of, table

ROUNDING_MM: Final = 0.005
"""Half of the last place in a file that writes 0.01 mm: 13/16 in. is 20.6375, written 20.64."""

HoleClass = Literal["undersize", "close", "standard", "customary", "oversize", "too-large"]
"""What a hole is to a bolt.

undersize: the bolt does not go in. close: it does, with less than the usual clearance.
customary: more than the standard hole, yet allowed for this bolt (14 mm for M12). oversize: up
to the oversize hole. too-large: beyond it.
"""

SlotClass = Literal["undersize", "short", "long", "too-wide", "too-long"]
"""What a slot is to a bolt.

undersize: the bolt does not go in. A slot longer than the short one is a long slot; too-wide
and too-long fit no class of the table.
"""


class HoleSizes(Struct, frozen=True, kw_only=True):
    """The holes that a code gives a bolt; the figures are the most of each class.

    Attributes:
        standard: diameter of the standard (EN: normal) round hole.
        oversize: diameter of the oversize hole.
        short_slot_w: width of a short slot.
        short_slot_l: overall length of a short slot.
        long_slot_w: width of a long slot.
        long_slot_l: overall length of a long slot.
        source: table and edition.
    """

    standard: Measure
    oversize: Measure
    short_slot_w: Measure
    short_slot_l: Measure
    long_slot_w: Measure
    long_slot_l: Measure
    source: Source


@lru_cache(maxsize=1024)
def hole_sizes(bolt: str, practice: str, edition: str | None = None) -> HoleSizes | None:
    """Return the holes for a bolt, None if the practice has none.

    eu has none for bolts named in inches, us none for M12, M14, M18 and M33.

    Source: AISC 360 Table J3.3 (bolts named in inches) or J3.3M, EN 1090-2 Table 11.

    Raises:
        UnknownNameError: for a practice, edition or spelling of a bolt that is not known.
    """
    edition = edition_of(practice, edition)
    size = read_bolt(bolt)
    rows = (row for row in table("bolt_holes.csv") if row["practice"] == practice)
    row = row_for(size, rows, edition)
    if row is None:
        return None
    figures = {}
    for name in HoleSizes.__struct_fields__:
        if name != "source":
            measure = figure(row[name], size.unit, size.diameter.value)
            if measure is None:
                raise ValueError(f"bolt_holes.csv leaves {name} of {bolt} blank")
            figures[name] = measure
    return HoleSizes(**figures, source=source_of(row, edition))


def standard_hole(bolt: str, practice: str, edition: str | None = None) -> Limit | None:
    """Return the diameter of the standard hole with its source; see ``hole_sizes``."""
    sizes = hole_sizes(bolt, practice, edition)
    return None if sizes is None else Limit(measure=sizes.standard, source=sizes.source)


def standard_hole_mm(bolt: str, practice: str, edition: str | None = None) -> float | None:
    """Return the diameter of the standard hole in millimetres; see ``hole_sizes``."""
    sizes = hole_sizes(bolt, practice, edition)
    return None if sizes is None else sizes.standard.mm


@lru_cache(maxsize=4096)
def classify_hole(
    diameter_mm: float, bolt: str, practice: str, edition: str | None = None
) -> HoleClass | None:
    """Return what a round hole is to a bolt, None if the practice has no holes for the bolt.

    Raises:
        UnknownNameError: as ``hole_sizes``.
    """
    sizes = hole_sizes(bolt, practice, edition)
    if sizes is None:
        return None
    if diameter_mm < read_bolt(bolt).diameter.mm - ROUNDING_MM:
        return "undersize"
    if diameter_mm < sizes.standard.mm - ROUNDING_MM:
        return "close"
    if diameter_mm <= sizes.standard.mm + ROUNDING_MM:
        return "standard"
    allowed = _allowed(bolt, practice)
    if allowed is not None and diameter_mm <= allowed.mm + ROUNDING_MM:
        return "customary"
    return "oversize" if diameter_mm <= sizes.oversize.mm + ROUNDING_MM else "too-large"


def classify_slot(
    width_mm: float, length_mm: float, bolt: str, practice: str, edition: str | None = None
) -> SlotClass | None:
    """Return what a slot of an overall length is to a bolt, None as for ``classify_hole``.

    The tables give maxima, so a slot between the short and the long one is a long slot (AISC
    FAQ 5.1.1).

    Raises:
        UnknownNameError: as ``hole_sizes``.
    """
    sizes = hole_sizes(bolt, practice, edition)
    if sizes is None:
        return None
    if width_mm < read_bolt(bolt).diameter.mm - ROUNDING_MM:
        return "undersize"
    if width_mm > sizes.short_slot_w.mm + ROUNDING_MM:
        return "too-wide"
    if length_mm <= sizes.short_slot_l.mm + ROUNDING_MM:
        return "short"
    return "long" if length_mm <= sizes.long_slot_l.mm + ROUNDING_MM else "too-long"


def _allowed(bolt: str, practice: str) -> Measure | None:
    """Return the larger hole that a code's footnote lets a bolt have."""
    for row in table("customary_holes.csv"):
        if row["allowed"] and row["bolt"] == bolt and practice in row["practice"].split():
            return figure(row["hole"], read_bolt(bolt).unit)
    return None
