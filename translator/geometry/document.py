"""The computed block of a part document: one emitter writes it, one reader derives it again."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from translator.geometry.at_hand import at_hand
from translator.geometry.computed import Computed, compute
from translator.model import Part

DECIMALS: Final = 6
"""Decimals of every figure: a square millimetre of paint, a milligram of steel. Rounding keeps
the last bits of a computed figure, which may differ between machines, out of the document."""


@at_hand(2)
def computed_document(part: Part) -> Mapping[str, Any]:
    """Return what follows from a part as mappings and tuples, under its JSON names."""
    return MappingProxyType(_document(compute(part)))


def _document(computed: Computed) -> dict[str, Any]:
    return {
        "mass_kg": round(computed.mass_kg, DECIMALS),
        "net_mass_kg": round(computed.net_mass_kg, DECIMALS),
        "mass_per_metre_kg": round(computed.mass_per_metre_kg, DECIMALS),
        "section_area_mm2": round(computed.section_area_mm2, DECIMALS),
        "paint_area_m2": round(computed.paint_area_m2, DECIMALS),
        "net_section": {
            found.convention: {
                "net_area_mm2": round(found.net_area_mm2, DECIMALS),
                "path": tuple({"leg": leg, "feature": feature} for leg, feature in found.path),
            }
            for found in computed.net_paths
        },
        "legs": {
            name: {
                "face_area_gross_mm2": round(leg.face_area_gross_mm2, DECIMALS),
                "face_area_net_mm2": round(leg.face_area_net_mm2, DECIMALS),
                "outline": tuple(
                    {"x_mm": corner.x_mm, "y_mm": corner.y_mm, "bulge": corner.bulge}
                    for corner in leg.outline
                ),
            }
            for name, leg in computed.legs.items()
        },
        "stops": tuple(
            {
                "x_mm": stop.x_mm,
                "operations": tuple(
                    {"leg": leg, "feature": feature} for leg, feature in stop.operations
                ),
            }
            for stop in computed.stops
        ),
    }
