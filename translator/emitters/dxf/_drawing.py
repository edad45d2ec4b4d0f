"""Put one leg's drawing together."""

from typing import Final, NamedTuple

from translator.emitters._emitter import EmitOptions
from translator.emitters.dxf import _features, _leg_dimensions, _lines, _sheet
from translator.emitters.dxf._entities import Box, Entity, around, both
from translator.emitters.dxf._layers import DIMENSION_LETTER
from translator.emitters.dxf._numbers import handles, number, numbers
from translator.emitters.dxf._scale import Scale, scale_of
from translator.emitters.dxf._spelling import spelled
from translator.emitters.dxf._table import Ruled
from translator.emitters.dxf._template import BLOCKS, ENTITIES, FIRST_HANDLE, RECORDS, template
from translator.emitters.dxf._text import LONGEST_TEXT, escaped
from translator.errors import CannotRepresentError
from translator.geometry.contours import Contour
from translator.geometry.outline import leg_outline
from translator.model import LegName, Part, Stamp, leg_names, leg_of

_VIEW_ROOM: Final = 1.05
"""The view that a drawing opens with shows a little more than all of it."""

_VIEW_ASPECT: Final = 1.34
"""Width to height of that view, as the template has it."""

_INCH: Final = {
    "insert_units": "1",
    "measurement": "0",
    "length_format": "5",  # fractions ...
    "length_precision": "6",  # ... to 1/64
    "dimension_format": "4",  # feet and inches ...
    "dimension_precision": "6",  # ... to 1/64
    "dimension_zeros": "3",  # 1'-0", but no 0'
}
_MILLIMETRE: Final = {
    "insert_units": "4",
    "measurement": "1",
    "length_format": "2",  # decimals
    "length_precision": "3",
    "dimension_format": "2",
    "dimension_precision": "3",
    "dimension_zeros": "8",  # none behind the last figure
}


def emit(part: Part, options: EmitOptions) -> bytes:
    """Draw one leg of a part, 1:1, from outside.

    An inch part is drawn in inches, any other in millimetres, and the drawing says so.

    Args:
        part: what to draw.
        options: ``leg`` names the leg; a flat needs none.

    Raises:
        CannotRepresentError: when the leg has no true outline, a stamp is longer than a
            drawing's text may be, or the part has no such leg.
    """
    own = drawn(part, _leg(part, options))
    return written(own.entities, own.around, own.scale, own.table).encode("utf-8")


class Drawn(NamedTuple):
    """All that is drawn of one leg, in mm of its outside view.

    Attributes:
        entities: the leg, what is made on it, and its dimensions.
        table: the words below it.
        around: a box around all.
        scale: unit of the drawing, and its letters.
    """

    entities: list[Entity]
    table: Ruled
    around: Box
    scale: Scale


def drawn(part: Part, leg: LegName) -> Drawn:
    """Draw one leg of a part.

    Raises:
        CannotRepresentError: as ``emit``.
    """
    scale = scale_of(part)
    entities, contour = leg_entities(part, leg, scale)
    dimensions = _leg_dimensions.draw(part, leg, contour, around(entities), scale.letter_mm)
    entities += dimensions.drawn
    entities += dimensions.words
    table = _sheet.draw(part, leg, contour, dimensions.around, scale, dimensions.left_out)
    return Drawn(entities, table, both(dimensions.around, table.around), scale)


def leg_entities(part: Part, leg: LegName, scale: Scale) -> tuple[list[Entity], Contour]:
    """Return a leg and what is made on it, without dimensions and words, and its outline.

    Raises:
        CannotRepresentError: when the leg has no true outline, or a stamp is longer than a
            drawing's text may be.
    """
    outline = leg_outline(part, leg)
    if outline.faults:
        raise CannotRepresentError(
            f"{part.mark}: leg {leg} cannot be drawn: {outline.faults[0].message}"
        )
    entities: list[Entity] = list(_lines.draw(part, leg, outline.contour, scale))
    for feature in leg_of(part, leg).features:
        if feature.kind == "stamp":
            _text_must_fit(part, leg, feature)
        entities += _features.draw(part, leg, feature, scale)
    return entities, outline.contour


def losses(part: Part) -> tuple[str, ...]:
    """Say what the part holds and its drawings do not show."""
    found = []
    if part.carried:
        lines = "line of the source is" if len(part.carried) == 1 else "lines of the source are"
        found.append(f"{len(part.carried)} carried {lines} not on the drawing")
    if part.waivers:
        waivers = "waiver is" if len(part.waivers) == 1 else "waivers are"
        found.append(f"{len(part.waivers)} {waivers} not on the drawing")
    if part.stated is not None:
        found.append("the mass and surface that the source states are not on the drawing")
    return tuple(found)


def _leg(part: Part, options: EmitOptions) -> LegName:
    names = leg_names(part)
    leg = names[0] if options.leg is None and len(names) == 1 else options.leg
    if leg is None:
        raise CannotRepresentError(
            f"{part.mark} has the legs {' and '.join(names)}; a drawing shows one, so say which"
        )
    if leg not in names:
        raise CannotRepresentError(f"{part.mark} has no leg {leg!r}, only {' and '.join(names)}")
    return leg


def _text_must_fit(part: Part, leg: LegName, stamp: Stamp) -> None:
    size = len(escaped(stamp.text or part.mark).encode("utf-8"))
    if size > LONGEST_TEXT:
        raise CannotRepresentError(
            f"{part.mark}: stamp {stamp.id} on leg {leg} takes {size} bytes, more than the"
            f" {LONGEST_TEXT} of a drawing's text"
        )


def written(
    entities: list[Entity], around_all: Box, scale: Scale, table: Ruled | None = None
) -> str:
    """Return entities as a whole drawing.

    Args:
        entities: all of it, in mm.
        around_all: a box around them, mm.
        scale: unit of the drawing, and its letters.
        table: what is behind them.
    """
    unit = scale.unit_mm
    box = Box(*(side / unit for side in around_all))
    height = max(box.top - box.bottom, (box.right - box.left) / _VIEW_ASPECT) * _VIEW_ROOM
    fixed, spell = template(), numbers(unit)
    names = handles(FIRST_HANDLE)
    texts = spelled(entities, unit, names, fixed.owners, table)
    return fixed.filled(
        {
            **(_MILLIMETRE if unit == 1.0 else _INCH),
            "next_handle": next(names),
            "left": spell[around_all.left],
            "bottom": spell[around_all.bottom],
            "right": spell[around_all.right],
            "top": spell[around_all.top],
            "line_scale": number(scale.dashes / unit),
            "dimension_scale": number(scale.letter_mm / DIMENSION_LETTER / unit),
            "middle_x": number((box.left + box.right) / 2.0),
            "middle_y": number((box.bottom + box.top) / 2.0),
            "view_height": number(height),
            "record_count": str(2 + texts.dimensions),
            RECORDS: texts.records,
            BLOCKS: texts.blocks,
            ENTITIES: texts.entities,
        }
    )
