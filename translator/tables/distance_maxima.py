"""Largest edge distances and spacings, for parts that stay in contact or are built up.

AISC 360 J3.5 (J3.6 in 360-22) and EN 1993-1-8 Table 3.3. AISC does not apply its spacing to
two shapes in contact all along.
"""

from fractions import Fraction
from functools import lru_cache
from typing import Final, Literal

from translator.errors import UnknownNameError
from translator.lengths.parse import INCH, Unit
from translator.tables.figures import Limit, Measure, exact
from translator.tables.published import edition_of, number, source_of, table

Exposure = Literal["sheltered", "exposed", "weathering"]
"""sheltered: not exposed. exposed: to weather or other corrosion. weathering: exposed unpainted
weathering steel."""

_EXPOSURES: Final = ("sheltered", "exposed", "weathering")


def edge_distance_max(
    thickness_mm: float,
    practice: str,
    edition: str | None = None,
    *,
    exposure: Exposure = "exposed",
    units: Unit = "mm",
) -> Limit | None:
    """Return the largest distance from the outer line of bolts to the edge.

    us: 12 t, at most 6 in. (150 mm). eu: exposed 4 t + 40 mm, weathering the larger of 8 t and
    125 mm, sheltered none (None).

    Args:
        thickness_mm: of the part (eu: of the thinner outer part).
        practice: "us" or "eu".
        edition: of the practice, None for the newest.
        exposure: to corrosion.
        units: whether AISC's inch or millimetre figure counts; eu has millimetres only.

    Raises:
        UnknownNameError: for a practice, edition or exposure that is not known.
    """
    return _largest(
        what="edge",
        thickness_mm=exact(thickness_mm),
        practice=practice,
        edition=edition_of(practice, edition),
        exposure=exposure,
        units=units,
    )


def spacing_max(
    thickness_mm: float,
    practice: str,
    edition: str | None = None,
    *,
    exposure: Exposure = "exposed",
    units: Unit = "mm",
) -> Limit | None:
    """Return the largest spacing of bolts in a line.

    us: 24 t, at most 12 in. (300 mm); weathering 14 t, at most 7 in. (180 mm). eu: 14 t, at
    most 200 mm; weathering 14 t, at most 175 mm. Arguments and errors as
    ``edge_distance_max``.
    """
    return _largest(
        what="spacing",
        thickness_mm=exact(thickness_mm),
        practice=practice,
        edition=edition_of(practice, edition),
        exposure=exposure,
        units=units,
    )


def inner_tension_spacing_max(thickness_mm: float) -> Limit | None:
    """Return the largest spacing in inner rows in tension, EN 1993-1-8: 28 t, at most 400 mm."""
    return _largest(
        what="inner tension spacing",
        thickness_mm=exact(thickness_mm),
        practice="eu",
        edition=edition_of("eu"),
        exposure="exposed",
        units="mm",
    )


@lru_cache(maxsize=1024)
def _largest(  # noqa: PLR0913 - the columns that choose a row
    *,
    what: str,
    thickness_mm: Fraction,
    practice: str,
    edition: str,
    exposure: Exposure,
    units: Unit,
) -> Limit | None:
    if exposure not in _EXPOSURES:
        raise UnknownNameError(f"{exposure!r} is no exposure: it is one of {_EXPOSURES}")
    asked = {"practice": practice, "what": what, "unit": units if practice == "us" else "mm"}
    for row in table("distance_maxima.csv"):
        if any(row[name] != value for name, value in asked.items()):
            continue
        if exposure not in row["exposure"].split():
            continue
        if practice == "us" and row["edition"] != edition:
            continue
        thickness = thickness_mm / INCH if row["unit"] == "inch" else thickness_mm
        pair = (number(row["times_thickness"]) * thickness, number(row["flat"]))
        value = {"sum": sum(pair, Fraction(0)), "most": max(pair), "least": min(pair)}[row["how"]]
        unit: Unit = "inch" if row["unit"] == "inch" else "mm"
        return Limit(measure=Measure(value=value, unit=unit), source=source_of(row))
    return None
