"""The listed angles: 91 of EN 10056-1 and 137 US sizes, with their published figures."""

import csv
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Final, Literal

from msgspec import Struct

from translator.lengths.grid import on_grid
from translator.lengths.parse import INCH, parse_length
from translator.model.sections import Angle, Flat

Standard = Literal["EN 10056-1", "AISC"]

POUND_PER_FOOT: Final = Fraction("0.45359237") / Fraction("0.3048")
"""Kilograms per metre in one pound per foot, exact by definition since 1959."""

_DATA: Final = Path(__file__).with_name("data")
_SOURCES: Final = MappingProxyType(
    {
        "EN 10056-1": "EN 10056-1:1998, Tables 1 and 2 (from memory, checked against open lists)",
        "AISC": "AISC Shapes Database v16.0 (through an open transcription)",
    }
)
_MASS_DECIMALS: Final = 6
_AREA_DECIMALS: Final = 4

_Sizes = tuple[float, float, float]


class ListedAngle(Struct, frozen=True, kw_only=True):
    """One row of a published table.

    Attributes:
        designation: the trade's name, longer leg first, without blanks.
        standard: the table.
        leg_a_mm: the longer leg.
        leg_b_mm: the shorter leg.
        thickness_mm: of both legs.
        root_radius_mm: inside fillet. US sizes: k less the thickness, in exact fractions.
        toe_radius_mm: inside edge of each toe. EN: half the root radius by the tables' Note 1;
            US: not published, taken as half the root radius because that fits the published
            areas best (within 1.4 %).
        mass_per_metre_kg: as published; for US sizes the nominal weight, which is not 7850
            kg/m3 times the area.
        area_mm2: as published, to three figures.
        source: table and edition, and how it was come by.
        confidence: "high" or "medium", see the head of the table's file.
    """

    designation: str
    standard: Standard
    leg_a_mm: float
    leg_b_mm: float
    thickness_mm: float
    root_radius_mm: float
    toe_radius_mm: float
    mass_per_metre_kg: float
    area_mm2: float
    source: str
    confidence: str

    def section(self, *, short_leg_first: bool = False) -> Angle:
        """Return the section, leg a the longer leg or, if asked, the shorter."""
        legs = (self.leg_a_mm, self.leg_b_mm)
        leg_a, leg_b = legs[::-1] if short_leg_first else legs
        return Angle(
            designation=_swapped(self.designation) if short_leg_first else self.designation,
            leg_a_mm=leg_a,
            leg_b_mm=leg_b,
            thickness_mm=self.thickness_mm,
            root_radius_mm=self.root_radius_mm,
            toe_radius_mm=self.toe_radius_mm,
        )


def all_angles() -> tuple[ListedAngle, ...]:
    """Return every listed angle: EN 10056-1 first, then US, in the order of the tables."""
    return _en_angles() + _us_angles()


def listed(section: Angle | Flat) -> ListedAngle | None:
    """Return the table row with the section's sizes, whichever leg comes first.

    Sizes are compared on the model's grid; radii and designation are not looked at.
    """
    if isinstance(section, Flat):
        return None
    return by_sizes(section.leg_a_mm, section.leg_b_mm, section.thickness_mm)


def by_sizes(leg_a_mm: float, leg_b_mm: float, thickness_mm: float) -> ListedAngle | None:
    """Return the table row of these sizes in millimetres, in either leg order."""
    return _index().get(_key(leg_a_mm, leg_b_mm, thickness_mm))


def nearest(
    leg_a_mm: float, leg_b_mm: float, thickness_mm: float, *, within_mm: float
) -> ListedAngle | None:
    """Return the closest row whose three sizes all lie within a distance, or None.

    For files that carry rounded sizes (88.9 as 89, 9.525 as 9.53). The closest is the one
    with the smallest largest difference; ties go to the order of the tables.
    """
    long, short, thick = _key(leg_a_mm, leg_b_mm, thickness_mm)
    found: ListedAngle | None = None
    limit = on_grid(within_mm)
    for row in all_angles():
        off = on_grid(
            max(
                abs(row.leg_a_mm - long),
                abs(row.leg_b_mm - short),
                abs(row.thickness_mm - thick),
            )
        )
        if off < limit or (off == limit and found is None):
            found, limit = row, off
    return found


def find(designation: str) -> ListedAngle | None:
    """Return the row of a table designation, in either leg order, blanks and case apart."""
    return _names().get(designation.replace(" ", "").upper())


def _key(leg_a_mm: float, leg_b_mm: float, thickness_mm: float) -> _Sizes:
    legs = (on_grid(leg_a_mm), on_grid(leg_b_mm))
    return max(legs), min(legs), on_grid(thickness_mm)


def _swapped(designation: str) -> str:
    long, short, thick = designation[1:].split("x")
    return f"L{short}x{long}x{thick}"


@cache
def _index() -> Mapping[_Sizes, ListedAngle]:
    return MappingProxyType(
        {_key(row.leg_a_mm, row.leg_b_mm, row.thickness_mm): row for row in all_angles()}
    )


@cache
def _names() -> Mapping[str, ListedAngle]:
    names = {row.designation.upper(): row for row in all_angles()}
    turned = {_swapped(row.designation).upper(): row for row in all_angles()}
    return MappingProxyType({**turned, **names})


def _rows(name: str) -> Iterator[dict[str, str]]:
    with (_DATA / name).open(encoding="utf-8", newline="") as lines:
        yield from csv.DictReader(line for line in lines if not line.startswith("#"))


@cache
def _en_angles() -> tuple[ListedAngle, ...]:
    return tuple(
        ListedAngle(
            designation=row["designation"],
            standard="EN 10056-1",
            leg_a_mm=float(row["leg_a_mm"]),
            leg_b_mm=float(row["leg_b_mm"]),
            thickness_mm=float(row["thickness_mm"]),
            root_radius_mm=float(row["root_radius_mm"]),
            toe_radius_mm=float(row["toe_radius_mm"]),
            mass_per_metre_kg=float(row["mass_kg_per_m"]),
            area_mm2=round(float(row["area_cm2"]) * 100, _AREA_DECIMALS),
            source=_SOURCES["EN 10056-1"],
            confidence=row["confidence"],
        )
        for row in _rows("en10056_1_angles.csv")
    )


@cache
def _us_angles() -> tuple[ListedAngle, ...]:
    return tuple(_us_angle(row) for row in _rows("us_angles.csv"))


def _us_angle(row: dict[str, str]) -> ListedAngle:
    leg_a, leg_b, thickness = (_inches(size) for size in row["designation"][1:].split("x"))
    root = _inches(row["root_radius_in"])
    return ListedAngle(
        designation=row["designation"],
        standard="AISC",
        leg_a_mm=on_grid(leg_a),
        leg_b_mm=on_grid(leg_b),
        thickness_mm=on_grid(thickness),
        root_radius_mm=on_grid(root),
        toe_radius_mm=on_grid(root / 2),
        mass_per_metre_kg=round(
            float(Fraction(row["weight_lb_per_ft"]) * POUND_PER_FOOT), _MASS_DECIMALS
        ),
        area_mm2=round(float(Fraction(row["area_in2"]) * INCH**2), _AREA_DECIMALS),
        source=_SOURCES["AISC"],
        confidence=row["confidence"],
    )


@cache
def _inches(text: str) -> Fraction:
    """Read a size of the table; the same few sizes come again and again."""
    return parse_length(text, "inch")
