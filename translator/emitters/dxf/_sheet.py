"""The words of a drawing: whose leg it is, what is made, what the part says besides, caution."""

from collections.abc import Iterator
from itertools import chain
from typing import Final, NamedTuple

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._entities import Box, Spot, Text
from translator.emitters.dxf._layers import Layer
from translator.emitters.dxf._scale import Scale
from translator.emitters.dxf._schedule import schedule
from translator.emitters.dxf._text import length, wrapped
from translator.findings import CAUTION
from translator.model import Angle, Flat, FlatEnds, LegName, Part, Section, on_grid
from translator.tables.designations import designation_of

_GAP: Final = 3.0
"""Free room between the leg and the words below it, in letter heights."""

_LINE_PITCH: Final = 1.7
"""From baseline to baseline, in letter heights."""

_TITLE_HEIGHT: Final = 1.4
"""Height of the title's letters, in letter heights."""

_LETTER_ROOM: Final = 0.85
"""Usual width of a letter, in letter heights."""

_COLUMNS: Final = (64, 100)
"""Fewest and most letters in a line of the notes."""


_BLOCK_GAP: Final = 0.8
"""Additional room between two blocks of notes, in letter heights."""


class _Block(NamedTuple):
    layer: Layer
    texts: tuple[str, ...]


def draw(part: Part, leg: LegName, above: Box, scale: Scale) -> Iterator[Text]:
    """Yield the words of the sheet, one line below the other, below and left of a box.

    Args:
        part: the part.
        leg: the leg that is drawn.
        above: what is already on the sheet; no word touches it.
        scale: sizes of the letters.
    """
    height = scale.letter_mm
    columns = int((above.right - above.left) / (height * _LETTER_ROOM))
    columns = min(max(columns, _COLUMNS[0]), _COLUMNS[1])
    v = above.bottom - _GAP * height - height
    for layer, texts in _blocks(part, leg):
        size = height * (_TITLE_HEIGHT if layer is layers.TITLE else 1.0)
        for line in chain.from_iterable(wrapped(text, columns) for text in texts):
            yield Text(layer, line, Spot(above.left, v), size)
            v -= _LINE_PITCH * size
        v -= _BLOCK_GAP * height if texts else 0.0


def _blocks(part: Part, leg: LegName) -> Iterator[_Block]:
    yield _Block(layers.TITLE, (f"{part.mark}   {_view_name(leg)}: OUTSIDE FACE",))
    yield _Block(layers.NOTE, (*_heading(part), *_ends(part, leg), _view_note(part, leg)))
    yield _Block(layers.NOTE, tuple(schedule(part, leg)))
    yield _Block(layers.NOTE, tuple(_remarks(part)))
    yield _Block(layers.CAUTION, (CAUTION,))


def _view_name(leg: LegName) -> str:
    return "FLAT" if leg == "face" else f"LEG {leg.upper()}"


def _view_note(part: Part, leg: LegName) -> str:
    unit = "one unit is one inch" if part.units == "inch" else "one unit is one mm"
    if leg == "face":
        return f"Scale 1:1, {unit}. Seen from outside, start end left, lower edge at the bottom."
    place = "top" if leg == "b" else "bottom"
    return (
        f"Scale 1:1, {unit}. Seen from outside, start end left, heel at the {place}; leg a above"
        " leg b, joined along the heel, is the unfolded angle."
    )


def _heading(part: Part) -> Iterator[str]:
    if part.title:
        yield part.title
    long = length(part.length_mm, part.units)
    yield _joined(
        ("", _section(part.section)),
        ("length ", f"{long}{_unit_mark(part, long)}"),
        ("quantity ", str(part.quantity)),
        ("grade ", part.grade),
    )
    yield _joined(*_sizes(part))
    yield _joined(
        ("order ", part.order),
        ("drawing ", part.drawing),
        ("revision ", part.revision),
        ("phase ", part.phase),
        ("lot ", part.lot),
        ("finish ", part.finish),
    )


def _unit_mark(part: Part, spelled: str) -> str:
    if part.units == "inch":
        return "" if spelled.endswith("mm") else " in."
    return " mm"


def _joined(*fields: tuple[str, str | None]) -> str:
    return "   ".join(f"{word}{value}" for word, value in fields if value)


def _section(section: Section) -> str:
    return section.designation or designation_of(section)


def _sizes(part: Part) -> Iterator[tuple[str, str]]:
    section = part.section
    if isinstance(section, Flat):
        sizes = {"width": section.width_mm, "thickness": section.thickness_mm}
    else:
        sizes = {
            "leg a": section.leg_a_mm,
            "leg b": section.leg_b_mm,
            "thickness": section.thickness_mm,
            "root radius": section.root_radius_mm,
            "toe radius": section.toe_radius_mm,
        }
    for word, size in sizes.items():
        if size:
            yield f"{word} ", length(size, part.units)
    if isinstance(section, Angle) and section.root_radius_mm:
        tangent = on_grid(section.thickness_mm + section.root_radius_mm)
        yield "fillet ends ", f"{length(tangent, part.units)} from the heel"


def _ends(part: Part, leg: LegName) -> Iterator[str]:
    edges = ("heel", "toe") if isinstance(part.section, Angle) else ("lower edge", "upper edge")
    for end, degrees in zip(("Start", "Far"), _end_angles(part, leg), strict=True):
        if degrees:
            edge = edges[degrees > 0]
            yield f"{end} end cut {abs(degrees):g} deg from square, long at the {edge}."


def _end_angles(part: Part, leg: LegName) -> tuple[float, float]:
    ends = part.ends
    if isinstance(ends, FlatEnds):
        return ends.start.face_deg, ends.far.face_deg
    if leg == "a":
        return ends.start.leg_a_deg, ends.far.leg_a_deg
    return ends.start.leg_b_deg, ends.far.leg_b_deg


def _remarks(part: Part) -> Iterator[str]:
    for text in part.second_work:
        yield f"Second work: {text}"
    for text in part.remarks:
        yield f"Remark: {text}"
