"""Force to punch and shear, shear strength from tensile strength, and die clearance.

Forces are for square tools: a punch or blade ground to an angle needs less, a dull one more.
"""

import math
from functools import cache

from msgspec import Struct

from translator.errors import UnknownNameError
from translator.tables.figures import Source
from translator.tables.published import source_of, table

_NEWTONS_PER_KN = 1000.0


class ShearFactor(Struct, frozen=True, kw_only=True):
    """Shear strength over tensile strength.

    Attributes:
        name: distortion-energy, usual, aisc-rupture, manufacturing or tool.
        usual: the figure to take.
        low: low end of the source's range.
        high: high end of it.
        source: who says so.
    """

    name: str
    usual: float
    low: float
    high: float
    source: Source


class DieClearance(Struct, frozen=True, kw_only=True):
    """Clearance between punch and die on each side, for a thickness.

    Attributes:
        per_side_mm: on each side.
        source: of the share of the thickness.
    """

    per_side_mm: float
    source: Source

    def die_mm(self, hole_mm: float) -> float:
        """Return the die for a hole: the punch is the hole's size, the die larger."""
        return hole_mm + 2 * self.per_side_mm


def punching_force_kn(perimeter_mm: float, thickness_mm: float, tau_mpa: float) -> float:
    """Return perimeter times thickness times shear strength, in kilonewtons.

    Source: any text on the strength of materials. For the most a press must give, take the
    shear strength from the highest tensile strength of the grade.
    """
    return perimeter_mm * thickness_mm * tau_mpa / _NEWTONS_PER_KN


def shear_force_kn(area_mm2: float, tau_mpa: float) -> float:
    """Return area times shear strength, in kilonewtons: a cut through the whole section."""
    return area_mm2 * tau_mpa / _NEWTONS_PER_KN


def hole_perimeter_mm(diameter_mm: float) -> float:
    """Return the perimeter of a round punch."""
    return math.pi * diameter_mm


def slot_perimeter_mm(width_mm: float, length_mm: float) -> float:
    """Return the perimeter of a punch with round ends, its length overall."""
    return math.pi * width_mm + 2 * (length_mm - width_mm)


@cache
def shear_factors() -> tuple[ShearFactor, ...]:
    """Return the known ratios of shear to tensile strength, lowest first."""
    return tuple(
        ShearFactor(
            name=row["name"],
            usual=float(row["usual"]),
            low=float(row["low"]),
            high=float(row["high"]),
            source=source_of(row),
        )
        for row in table("shear_factors.csv")
    )


def shear_factor(name: str) -> ShearFactor:
    """Return the ratio of a name.

    Raises:
        UnknownNameError: for a name that is not in the table.
    """
    for factor in shear_factors():
        if factor.name == name:
            return factor
    raise UnknownNameError(f"{name!r} is no shear factor: it is one of {_names()}")


def die_clearance(thickness_mm: float, material: str = "soft-steel") -> DieClearance:
    """Return the clearance for a thickness.

    Args:
        thickness_mm: of the piece punched.
        material: aluminium, soft-steel (and brass), or hard-steel (half-hard, stainless).

    Raises:
        UnknownNameError: for another material.
    """
    for row in table("die_clearances.csv"):
        if row["material"] == material:
            return DieClearance(
                per_side_mm=float(row["share"]) * thickness_mm, source=source_of(row)
            )
    raise UnknownNameError(f"{material!r} is no material of the die clearances")


def _names() -> str:
    return ", ".join(factor.name for factor in shear_factors())
