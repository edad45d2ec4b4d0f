"""Figures that look off by 25.4: impossible as they stand, sensible in the other unit."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final, NamedTuple

from translator.lengths.parse import Unit
from translator.model import (
    Angle,
    Hole,
    Part,
    Slot,
    feature_path,
    leg_names,
    leg_of,
    leg_thickness,
    leg_width,
)
from translator.readers.part_text._book import told

_INCH: Final = 25.4
_LONGEST_MM: Final = 20_000.0
"""Angles and flats are rolled and carried in lengths up to about 60 ft (common practice)."""

_SMALLEST_HOLE_MM: Final = 4.0
"""Nobody punches or drills smaller into an angle (common practice, no source)."""

_USUAL_HOLES_MM: Final = (8.0, 40.0)


class Doubt(NamedTuple):
    """A figure that may be meant in the other unit.

    Attributes:
        element: path of the element.
        message: the sentence.
    """

    element: str
    message: str


def doubts(part: Part, units: Unit | None) -> list[Doubt]:
    """Return the figures of a part that look as if typed in the other unit, one of each kind.

    Args:
        part: the part as read.
        units: the file's unit; without one nothing was typed under a wrong one.
    """
    if units is None:
        return []
    found: dict[str, Doubt] = {}
    for what, element, mm, (low, high, least, most) in (*_of_length(part), *_of_features(part)):
        other = mm / _INCH if units == "inch" else mm * _INCH
        is_off = mm > high if units == "inch" else mm < low
        if is_off and least <= other <= most and what not in found:
            found[what] = Doubt(element, _sentence(what, mm, units))
    return list(found.values())


class _Fit(NamedTuple):
    """What is possible at all (low to high), and what would be sensible (least to most)."""

    low: float
    high: float
    least: float
    most: float


def _of_length(part: Part) -> Iterator[tuple[str, str, float, _Fit]]:
    thickness = leg_thickness(part.section)
    shortest = 2 * thickness if isinstance(part.section, Angle) else thickness
    width = max(leg_width(part.section, name) for name in leg_names(part))
    fit = _Fit(low=shortest, high=_LONGEST_MM, least=width / 4, most=_LONGEST_MM)
    yield "length", "length", part.length_mm, fit


def _of_features(part: Part) -> Iterator[tuple[str, str, float, _Fit]]:
    for name in leg_names(part):
        width = leg_width(part.section, name)
        for feature in leg_of(part, name).features:
            if not isinstance(feature, Hole | Slot):
                continue
            path = feature_path(name, feature.id)
            size = feature.diameter_mm if isinstance(feature, Hole) else feature.width_mm
            what = "diameter" if isinstance(feature, Hole) else "width of a slot"
            yield what, path, size, _Fit(_SMALLEST_HOLE_MM, width, *_USUAL_HOLES_MM)
            gauge = _Fit(0.0, width, width / 10, width)
            yield "gauge", path, feature.y_mm, gauge
            place = _Fit(0.0, part.length_mm, 0.0, part.length_mm)
            yield "position", path, feature.x_mm, place


def _sentence(what: str, mm: float, units: Unit) -> str:
    typed = mm / _INCH if units == "inch" else mm
    other = "mm" if units == "inch" else "in."
    size = "large" if units == "inch" else "small"
    figure = told(Fraction(mm), units)
    return f"{figure} is a very {size} {what} for this part: did you mean {typed:g} {other}?"
