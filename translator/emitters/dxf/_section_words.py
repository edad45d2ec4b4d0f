"""Say the sizes of a section in words."""

from translator.emitters.dxf._text import length
from translator.geometry.at_hand import at_hand
from translator.model import Angle, Flat, Part, Section, on_grid


@at_hand(2)
def section_words(part: Part) -> str:
    """Say the sizes of a part's section that are not 0, in the part's units."""
    section = part.section
    found = [f"{word} {length(size, part.units)}" for word, size in _sizes(section) if size]
    if isinstance(section, Angle) and section.root_radius_mm:
        tangent = on_grid(section.thickness_mm + section.root_radius_mm)
        found.append(f"fillet ends {length(tangent, part.units)} from the heel")
    return "   ".join(found)


def _sizes(section: Section) -> tuple[tuple[str, float], ...]:
    if isinstance(section, Flat):
        return (("width", section.width_mm), ("thickness", section.thickness_mm))
    return (
        ("leg a", section.leg_a_mm),
        ("leg b", section.leg_b_mm),
        ("thickness", section.thickness_mm),
        ("root radius", section.root_radius_mm),
        ("toe radius", section.toe_radius_mm),
    )
