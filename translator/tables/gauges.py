"""Usual gauges of angle legs (back marks): AISC Manual Table 1-7A, UK handbooks, DIN 997.

The European marks are all from memory. All are measured from the heel on the outer face.
"""

from functools import lru_cache
from typing import Final

from msgspec import Struct

from translator.errors import UnknownNameError
from translator.lengths.parse import Unit
from translator.tables.figures import Measure, Source, exact
from translator.tables.published import EDITIONS, number, source_of, table

LEG_NEARNESS_MM: Final = 0.05
"""How far a leg may be from the table's size: what a file loses that writes 0.1 mm."""

GAUGE_NEARNESS_MM: Final = 0.5
"""How far a gauge may be from the table's and still be that gauge: whole millimetres."""


class UsualGauge(Struct, frozen=True, kw_only=True):
    """One set of lines of holes that go together on a leg.

    Attributes:
        system: whose gauges these are.
        leg: size of the leg.
        lines: distance of each line from the heel, nearest first.
        largest_bolt: the largest bolt the table gives for them, None if it gives none.
        largest_hole: the largest hole the table gives for them, None if it gives none.
        is_doubtful: one transcription only, and another contradicts it.
        source: table and edition.
    """

    system: str
    leg: Measure
    lines: tuple[Measure, ...]
    largest_bolt: str | None
    largest_hole: Measure | None
    is_doubtful: bool
    source: Source


@lru_cache(maxsize=2)
def all_gauges(practice: str) -> tuple[UsualGauge, ...]:
    """Return all usual gauges of a practice, "us" or "eu", in the order of the tables.

    Raises:
        UnknownNameError: for another practice.
    """
    if practice not in EDITIONS:
        raise UnknownNameError(f"{practice!r} is no practice: it is us or eu")
    unit: Unit = "inch" if practice == "us" else "mm"
    return tuple(
        UsualGauge(
            system=row["system"],
            leg=Measure(value=number(row["leg"]), unit=unit),
            lines=tuple(Measure(value=number(line), unit=unit) for line in row["lines"].split()),
            largest_bolt=row["largest_bolt"] or None,
            largest_hole=Measure(value=number(row["largest_hole"]), unit="mm")
            if row["largest_hole"]
            else None,
            is_doubtful=bool(row["doubtful"]),
            source=source_of(row),
        )
        for row in table("usual_gauges.csv")
        if row["practice"] == practice
    )


@lru_cache(maxsize=1024)
def usual_gauges(leg_mm: float, practice: str) -> tuple[UsualGauge, ...]:
    """Return the usual gauges of a leg, none if the practice does not list that leg.

    Raises:
        UnknownNameError: for a practice that is not known.
    """
    leg = exact(leg_mm)
    return tuple(
        gauge
        for gauge in all_gauges(practice)
        if abs(gauge.leg.exact_mm - leg) <= exact(LEG_NEARNESS_MM)
    )


def is_usual_gauge(
    leg_mm: float, gauge_mm: float, practice: str, *, nearness_mm: float = GAUGE_NEARNESS_MM
) -> bool | None:
    """Tell whether a gauge is a usual one for a leg, None if the leg is not listed.

    Args:
        leg_mm: size of the leg.
        gauge_mm: heel to the line of holes.
        practice: "us" or "eu".
        nearness_mm: how far it may be from the table's figure.

    Raises:
        UnknownNameError: for a practice that is not known.
    """
    gauges = usual_gauges(leg_mm, practice)
    if not gauges:
        return None
    return any(
        abs(line.exact_mm - exact(gauge_mm)) <= exact(nearness_mm)
        for gauge in gauges
        for line in gauge.lines
    )
