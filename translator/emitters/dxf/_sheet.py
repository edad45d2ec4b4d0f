"""The words of a drawing: title block, notes, schedule of what is made, caution."""

import math
from collections.abc import Iterator, Mapping
from typing import Final

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._clip import reach as ends
from translator.emitters.dxf._entities import Box, Spot
from translator.emitters.dxf._scale import Scale
from translator.emitters.dxf._schedule import schedule
from translator.emitters.dxf._section_words import section_words
from translator.emitters.dxf._table import Cell, Row, Ruled, ruled
from translator.emitters.dxf._text import dimension, length, rounded
from translator.findings import CAUTION
from translator.geometry.at_hand import at_hand
from translator.geometry.contours import Contour
from translator.geometry.ends import end_angle_deg
from translator.geometry.mass import gross_mass_kg
from translator.geometry.outline import leg_outline
from translator.model import (
    Angle,
    Clip,
    Cope,
    Flat,
    LegName,
    Notch,
    OutlineTrim,
    Part,
    Rounding,
    Trim,
    leg_names,
    leg_of,
    on_grid,
)
from translator.model.trims import End
from translator.tables.designations import designation_of

_GAP: Final = 2.0
"""Free room between the leg and the words below it, in letter heights."""

_WIDTHS: Final = (58.0, 85.0)
"""Least and greatest width of the title block, in letter heights."""

_REACHED_MM: Final = 0.001
"""A leg that comes so near to an end of the piece has it."""

_SCHEDULE: Final = (
    ("NAME", 1.2),
    ("NO.", 0.6),
    ("WHAT", 3.4),
    ("GAUGE", 1.0),
    ("AT, FROM START END", 2.6),
)
"""Columns of the schedule: what they hold, and their widths as shares of a row."""

_POUND_KG: Final = 0.45359237

_ENDS: Final[tuple[End, ...]] = ("start", "far")


def draw(  # noqa: PLR0913, PLR0917 - all of them belong to one sheet
    part: Part, leg: LegName, contour: Contour, above: Box, scale: Scale, left_out: int = 0
) -> Ruled:
    """Set the title block, notes, schedule and caution, below a box.

    Args:
        part: the part.
        leg: the leg that is drawn.
        contour: its outline.
        above: what is already on the sheet; no word touches it.
        scale: sizes of the letters.
        left_out: places that have no dimension.
    """
    h = scale.letter_mm
    width = min(max(above.right - above.left, _WIDTHS[0] * h), _WIDTHS[1] * h)
    corner = Spot(above.left, above.bottom - _GAP * h)
    rows = [
        *title_rows(part, view_name((leg,)), "1:1"),
        *note_rows(
            [*notes(part, {leg: contour}, left_out), view_note(part, (leg,)), unit_note(part)]
        ),
        *schedule_rows(part, (leg,)),
        caution_row(),
    ]
    return ruled(rows, corner, width, h)


def title_rows(part: Part, view: str, scale: str) -> tuple[Row, ...]:
    """Return the title block of a part: what it is and where it belongs."""
    size = 1.4
    first = (
        Cell(texts=(part.mark,), caption="MARK", layer=layers.TITLE, size=size),
        Cell(texts=(view,), caption="VIEW", layer=layers.TITLE, size=size),
    )
    return (first, *_title(part, scale))


@at_hand(2)
def _title(part: Part, scale: str) -> tuple[Row, ...]:
    """Return the rows of a title block that are the same for both legs."""
    section = part.section.designation or designation_of(part.section)
    more = (("PHASE", part.phase), ("LOT", part.lot), ("FINISH", part.finish))
    rows: list[Row] = [
        (Cell(texts=(part.title,), caption="TITLE"),) if part.title else (),
        (
            Cell(texts=(section,), caption="SECTION", share=2.0),
            Cell(texts=(_length(part),), caption="LENGTH", share=1.2),
            Cell(texts=(str(part.quantity),), caption="QUANTITY", share=0.9),
            Cell(texts=(part.grade or "",), caption="GRADE"),
            Cell(texts=(_mass(part),), caption="MASS OF ONE", share=1.9),
        ),
        (
            Cell(texts=(part.order or "",), caption="ORDER", share=2.0),
            Cell(texts=(part.drawing or "",), caption="DRAWING", share=1.2),
            Cell(texts=(part.revision or "",), caption="REVISION", share=0.9),
            Cell(texts=("inch" if part.units == "inch" else "mm",), caption="UNITS"),
            Cell(texts=(scale,), caption="SCALE", share=1.9),
        ),
        tuple([Cell(texts=(text,), caption=caption) for caption, text in more if text]),
    ]
    return tuple([row for row in rows if row])


def note_rows(texts: list[str]) -> Iterator[Row]:
    """Yield one row of notes, or none."""
    if texts:
        yield (Cell(texts=tuple(texts), caption="NOTES"),)


def schedule_rows(part: Part, legs: tuple[LegName, ...]) -> Iterator[Row]:
    """Yield the schedule of some legs: what is made, how often and where."""
    entries = [entry for leg in legs for entry in schedule(part, leg)]
    for index, entry in enumerate(entries):
        texts = (entry.names, str(entry.number), entry.what, entry.gauge, entry.places)
        yield tuple(
            [
                Cell(texts=(text,), caption="" if index else caption, share=share)
                for text, (caption, share) in zip(texts, _SCHEDULE, strict=True)
            ]
        )


_CAUTION_ROW: Final[Row] = (Cell(texts=(CAUTION,), layer=layers.CAUTION),)


def caution_row() -> Row:
    """Return the caution that stands on every drawing."""
    return _CAUTION_ROW


def view_name(legs: tuple[LegName, ...]) -> str:
    """Say which legs are drawn, and from where."""
    if legs == ("face",):
        return "FLAT: OUTSIDE FACE"
    names = " AND ".join(leg.upper() for leg in legs)
    return f"LEG {names}: OUTSIDE FACE" if len(legs) == 1 else f"LEGS {names}: OUTSIDE FACES"


def view_note(part: Part, legs: tuple[LegName, ...]) -> str:
    """Say how what is drawn lies."""
    if isinstance(part.section, Flat):
        return "Seen from outside, start end left; gauges are from the lower edge, at the bottom."
    if len(legs) > 1:
        return (
            "The unfolded angle seen from outside, start end left: leg a above leg b, joined"
            " along the heel."
        )
    place = "top" if legs == ("b",) else "bottom"
    return (
        f"Seen from outside, start end left, heel at the {place}; leg a above leg b, joined along"
        " the heel, is the unfolded angle."
    )


def unit_note(part: Part) -> str:
    """Say what one unit of the drawing is."""
    unit = "inch" if part.units == "inch" else "mm"
    return f"One unit of the drawing is one {unit}. Sizes in brackets follow from others."


def notes(part: Part, legs: Mapping[LegName, Contour], left_out: int = 0) -> Iterator[str]:
    """Yield what the drawing says in words of the section, its ends and cuts, and the part.

    Args:
        part: the part.
        legs: the legs that are drawn, with their outlines.
        left_out: places that have no dimension.
    """
    yield section_words(part)
    for leg, contour in legs.items():
        about = f"Leg {leg}: " if len(legs) > 1 else ""
        yield from (about + text for text in (*_ends(part, leg), *_reach(part, leg, contour)))
        for trim in leg_of(part, leg).trims:
            yield about + _trim(part, trim)
    if left_out:
        yield f"{left_out} places are too close to dimension; the schedule has them."
    for text in part.second_work:
        yield f"Second work: {text}"
    for text in part.remarks:
        yield f"Remark: {text}"


def _length(part: Part) -> str:
    text = dimension(part.length_mm, part.units)
    if part.units == "mm":
        return f"{text} mm"
    return text if text.endswith(('"', "mm")) else f"{text} in."


def _mass(part: Part) -> str:
    mass = gross_mass_kg(part)
    return (
        f"{mass:.2f} kg ({mass / _POUND_KG:.1f} lb)" if part.units == "inch" else f"{mass:.2f} kg"
    )


def _ends(part: Part, leg: LegName) -> Iterator[str]:
    """Say how the ends are cut, by angle and, as it is set out, by a slope."""
    edges = ("heel", "toe") if isinstance(part.section, Angle) else ("lower edge", "upper edge")
    for end in _ENDS:
        degrees = end_angle_deg(part, end, leg)
        if degrees:
            run = 304.8 if part.units == "inch" else 100.0
            rise = rounded(math.tan(math.radians(abs(degrees))) * run, part.units)
            slope = f"{length(on_grid(rise), part.units)} in {length(run, part.units)}"
            yield (
                f"{end.capitalize()} end cut {abs(degrees):g} deg from square (about {slope}),"
                f" long at the {edges[degrees > 0]}."
            )


def _reach(part: Part, leg: LegName, contour: Contour) -> Iterator[str]:
    """Say where an end of the piece does not lie on this leg."""
    left, right = ends(contour)
    others = [name for name in leg_names(part) if name != leg]
    if left > _REACHED_MM:
        at = [o for o in others if ends(leg_outline(part, o).contour)[0] <= _REACHED_MM]
        yield f"0 along the piece is {_elsewhere('start', leg, at)}"
    end = part.length_mm - _REACHED_MM
    if right < end:
        at = [o for o in others if ends(leg_outline(part, o).contour)[1] >= end]
        yield f"The far end of the length is {_elsewhere('far', leg, at)}"


def _elsewhere(end: End, leg: LegName, others: list[LegName]) -> str:
    if others:
        return f"on leg {others[0]}, not on leg {leg}."
    return f"that of the {end} end before its corners were cut: no steel is left there."


def _trim(part: Part, trim: Trim) -> str:
    def spell(mm: float) -> str:
        return length(mm, part.units)

    match trim:
        case Cope():
            words = f"cope {spell(trim.along_mm)} long x {spell(trim.across_mm)} deep"
            return f"{_corner(trim)}: {words}{_inside(spell(trim.radius_mm), trim.radius_mm)}."
        case Clip():
            words = f"clip {spell(trim.along_mm)} along x {spell(trim.across_mm)} across"
            return f"{_corner(trim)}: {words}."
        case Rounding():
            return f"{_corner(trim)}: rounded, radius {spell(trim.radius_mm)}."
        case Notch():
            edge = trim.side if trim.side in ("toe", "heel") else f"{trim.side} edge"
            words = f"notch in the {edge}, {spell(trim.x_from_mm)} to {spell(trim.x_to_mm)} along"
            inside = _inside(spell(trim.radius_mm), trim.radius_mm)
            return f"{words.capitalize()} x {spell(trim.across_mm)} deep{inside}."
        case OutlineTrim():
            return f"The outline is told corner by corner ({len(trim.contour)}); see the drawing."


def _corner(trim: Cope | Clip | Rounding) -> str:
    edge = trim.side if trim.side in ("toe", "heel") else f"{trim.side} edge"
    return f"{trim.end.capitalize()} end, {edge}"


def _inside(spelled: str, radius: float) -> str:
    return f", inside radius {spelled}" if radius else ""
