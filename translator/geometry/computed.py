"""All that is computed of a part, in one value: what its documents print beside the design."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.geometry.at_hand import at_hand
from translator.geometry.contours import Contour
from translator.geometry.cuts import OutlineFault
from translator.geometry.mass import (
    face_area_gross_mm2,
    face_area_net_mm2,
    gross_mass_kg,
    mass_per_metre_kg,
    net_mass_kg,
)
from translator.geometry.netpath import CONVENTIONS, NetPath, net_path
from translator.geometry.outline import leg_outline
from translator.geometry.paint import paint_area_m2
from translator.geometry.sections import section_area_mm2
from translator.geometry.stops import Stop, stops
from translator.model import LegName, Part, leg_names

_KEPT: Final = 4
"""Parts of which all is kept at hand: a document that was read is often written again."""


class ComputedLeg(Struct, frozen=True, kw_only=True):
    """What follows for one leg.

    Attributes:
        outline: derived outline on the outer face, arcs kept.
        face_area_gross_mm2: area inside the outline.
        face_area_net_mm2: the same less through holes, slots and openings.
    """

    outline: Contour
    face_area_gross_mm2: float
    face_area_net_mm2: float


class Computed(Struct, frozen=True, kw_only=True):
    """What follows for a part.

    Attributes:
        legs: by leg name, in order.
        mass_kg: as billed, mass per metre times length.
        net_mass_kg: of the steel that is left.
        mass_per_metre_kg: published, or computed for an unlisted section.
        section_area_mm2: of the section with its radii.
        paint_area_m2: see ``paint``.
        net_paths: the worst way across under each convention; without one that would take too
            long to tell.
        stops: by x from the start end.
        faults: why an outline can't be made; empty for a sound part.
    """

    legs: Mapping[LegName, ComputedLeg]
    mass_kg: float
    net_mass_kg: float
    mass_per_metre_kg: float
    section_area_mm2: float
    paint_area_m2: float
    net_paths: tuple[NetPath, ...]
    stops: tuple[Stop, ...]
    faults: tuple[OutlineFault, ...]


@at_hand(_KEPT)
def compute(part: Part) -> Computed:
    """Compute everything that follows from a part. Figures are not rounded."""
    outlines = {leg: leg_outline(part, leg) for leg in leg_names(part)}
    gross = {leg: face_area_gross_mm2(part, leg, outlines) for leg in outlines}
    legs = {
        leg: ComputedLeg(
            outline=outline.contour,
            face_area_gross_mm2=gross[leg],
            face_area_net_mm2=face_area_net_mm2(part, leg, gross[leg]),
        )
        for leg, outline in outlines.items()
    }
    return Computed(
        legs=MappingProxyType(legs),
        mass_kg=gross_mass_kg(part),
        net_mass_kg=net_mass_kg(part, outlines),
        mass_per_metre_kg=mass_per_metre_kg(part.section),
        section_area_mm2=section_area_mm2(part.section),
        paint_area_m2=paint_area_m2(part),
        net_paths=tuple(
            found for name in CONVENTIONS if (found := net_path(part, name)) is not None
        ),
        stops=stops(part),
        faults=tuple(fault for outline in outlines.values() for fault in outline.faults),
    )
