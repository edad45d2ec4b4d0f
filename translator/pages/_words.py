"""Sizes and features in a shop's words, in the unit that the author wrote."""

import math
from functools import lru_cache
from typing import Final

from translator.geometry.clearance import extent
from translator.geometry.stops import feature_x
from translator.lengths.parse import Unit
from translator.lengths.spell import feet_inch_text, inch_text, length_text, mm_text
from translator.model import (
    Angle,
    CentreMark,
    Feature,
    FlatEnds,
    Hole,
    LegName,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    leg_names,
    leg_of,
    leg_width,
    on_grid,
)
from translator.tables.designations import designation_of

_MM_PER_INCH: Final = 25.4
_NOISE: Final = 1e-4


def length(mm: float, part: Part) -> str:
    """Return a length in the part's units without naming them."""
    return _spelled(mm, part.units)


@lru_cache(maxsize=4096)
def _spelled(mm: float, units: Unit) -> str:
    """Spell a length; the same few come again and again in one delivery."""
    return length_text(mm, units)


def named_length(mm: float, part: Part) -> str:
    """Return a length in the part's units, named."""
    text = length(mm, part)
    unit = "in." if part.units == "inch" else "mm"
    return text if text.endswith("mm") else f"{text} {unit}"


def both(mm: float, part: Part) -> str:
    """Return a length in both units, the author's first."""
    metric = f"{mm_text(round(mm, 3))} mm"
    inch = feet_inch_text(mm) or f'{mm / _MM_PER_INCH:.4f}"'
    return f"{inch} ({metric})" if part.units == "inch" else f"{metric} ({inch})"


def leg_words(leg: LegName) -> str:
    """Return "leg a", "leg b" or "face"."""
    return "face" if leg == "face" else f"leg {leg}"


def section_words(part: Part) -> str:
    """Return the section's designation and sizes."""
    sizes = " x ".join(length(leg_width(part.section, leg), part) for leg in leg_names(part))
    unit = "in." if part.units == "inch" else "mm"
    name = part.section.designation or designation_of(part.section)
    return f"{name} ({sizes} x {length(part.section.thickness_mm, part)} {unit})"


def end_words(part: Part) -> tuple[str, ...]:
    """Return what is to be said of ends that are not square."""
    toe = "toe" if isinstance(part.section, Angle) else "upper edge"
    return tuple(
        f"{end} end {abs(angle):g} deg from square on {leg_words(leg)},"
        f" {'long' if angle > 0 else 'short'} at the {toe}"
        for end in ("start", "far")
        for leg, angle in _end_angles(part, end)
        if angle
    )


def _end_angles(part: Part, end: str) -> tuple[tuple[LegName, float], ...]:
    ends = part.ends
    if isinstance(ends, FlatEnds):
        return (("face", (ends.start if end == "start" else ends.far).face_deg),)
    cut = ends.start if end == "start" else ends.far
    return (("a", cut.leg_a_deg), ("b", cut.leg_b_deg))


def feature_rows(part: Part, leg: LegName) -> list[list[str]]:
    """Return a row for each feature of a leg: id, kind, x, from heel, from toe, size."""
    width = leg_width(part.section, leg)
    rows = []
    for feature in leg_of(part, leg).features:
        y = across(feature)
        places = ["", ""] if y is None else [length(y, part), length(on_grid(width - y), part)]
        row = [feature.id, kind_words(feature), length(feature_x(feature), part)]
        rows.append([*row, *places, size_words(part, feature)])
    return rows


def across(feature: Feature) -> float | None:
    """Return the y that a feature is given by, None for a line."""
    if isinstance(feature, Hole | Slot | CentreMark):
        return feature.y_mm
    if isinstance(feature, Stamp):
        return feature.from_heel_mm
    if isinstance(feature, Opening):
        box = extent(feature)
        return on_grid((box.low + box.high) / 2.0)
    return None


def kind_words(feature: Feature) -> str:
    """Return what a feature is."""
    words = feature.kind.replace("_", " ")
    if isinstance(feature, Hole) and feature.thread:
        words = f"tapped {words}"
    if isinstance(feature, Hole | Slot) and feature.depth_mm is not None:
        words = f"blind {words}"
    return words


def size_words(part: Part, feature: Feature) -> str:
    """Return a feature's size and what else is said of it."""
    match feature:
        case Hole():
            words = [length(feature.diameter_mm, part), *_sunk(part, feature)]
            return ", ".join([*words, *_how(part, feature)])
        case Slot():
            size = f"{length(feature.width_mm, part)} x {length(feature.length_mm, part)} overall"
            return ", ".join([size, slot_way(part, feature), *_how(part, feature)])
        case Opening():
            box = extent(feature)
            sides = (on_grid(box.right - box.left), on_grid(box.high - box.low))
            return f"{' x '.join(length(side, part) for side in sides)} over all"
        case Stamp():
            text = part.mark if feature.text is None else feature.text
            return f'"{text}" {length(feature.height_mm, part)} high'
        case Scribe():
            return f"{feature.method}, {len(feature.line)} points"
        case CentreMark():
            return ""


def slot_way(part: Part, slot: Slot) -> str:
    """Return how a slot lies."""
    what = "leg" if isinstance(part.section, Angle) else "piece"
    if slot.angle_deg in (0.0, 90.0):
        return f"{'across' if slot.angle_deg else 'along'} the {what}"
    toe, heel = ("toe", "heel") if what == "leg" else ("upper edge", "lower edge")
    return f"turned {abs(slot.angle_deg):g} deg to the {toe if slot.angle_deg > 0 else heel}"


def _sunk(part: Part, hole: Hole) -> list[str]:
    words = []
    if hole.thread:
        words.append(f"{hole.thread}-hand thread")
    if hole.countersink_diameter_mm:
        words.append(f"countersunk to {length(hole.countersink_diameter_mm, part)}")
    if hole.countersink_angle_deg:
        words.append(f"countersink {hole.countersink_angle_deg:g} deg")
    return words


def _how(part: Part, feature: Hole | Slot) -> list[str]:
    words = [] if feature.depth_mm is None else [f"{length(feature.depth_mm, part)} deep"]
    words += [f"bolt {feature.bolt}"] if feature.bolt else []
    return [*words, *(word for word in (feature.purpose, feature.process) if word)]


def bound(mm: float, part: Part, *, is_upper: bool) -> str:
    """Return the end of a range in the part's units; what is not exact goes into the range."""
    if part.units == "inch" and (text := inch_text(mm)) is not None:
        return text
    unit_mm, steps = (_MM_PER_INCH, 1000.0) if part.units == "inch" else (1.0, 100.0)
    scaled = mm / unit_mm * steps
    # What lies within the grid's noise of a step is that step.
    whole = math.floor(scaled + _NOISE) if is_upper else math.ceil(scaled - _NOISE)
    return f"{whole / steps:.{len(str(int(steps))) - 1}f}".rstrip("0").rstrip(".")
