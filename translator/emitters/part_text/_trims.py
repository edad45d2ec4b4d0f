"""Statements of a leg's trims."""

from collections.abc import Iterable
from typing import Final

from translator.emitters.part_text._phrases import contour, line
from translator.lengths.parse import Unit
from translator.lengths.spell import length_text
from translator.model import Clip, Cope, Notch, OutlineTrim, Rounding, Trim

_DEPTH: Final = 2


def trim_lines(trims: Iterable[Trim], units: Unit) -> list[str]:
    """Return the statements of a leg's trims, in their order."""
    return [text for trim in trims for text in line(_DEPTH, _phrases(trim, units))]


def _phrases(trim: Trim, units: Unit) -> list[str]:
    match trim:
        case Cope():
            return [f"cope {trim.end} {trim.side}", _corner(trim, units), *_radius(trim, units)]
        case Clip():
            return [f"clip {trim.end} {trim.side}", _corner(trim, units)]
        case Rounding():
            radius = length_text(trim.radius_mm, units)
            return [f"round {trim.end} {trim.side}", f"radius {radius}"]
        case Notch():
            begin, end = length_text(trim.x_from_mm, units), length_text(trim.x_to_mm, units)
            deep = f"deep {length_text(trim.across_mm, units)}"
            return [f"notch {trim.side}", f"from {begin} to {end}", deep, *_radius(trim, units)]
        case OutlineTrim():
            return ["outline", *contour(trim.contour, units, is_closed=True)]


def _corner(trim: Cope | Clip, units: Unit) -> str:
    along, across = length_text(trim.along_mm, units), length_text(trim.across_mm, units)
    return f"{along} long x {across} deep"


def _radius(trim: Cope | Notch, units: Unit) -> list[str]:
    return [f"radius {length_text(trim.radius_mm, units)}"] if trim.radius_mm else []
