"""Read a leg drawing with the independent library and compare it with the part.

What an entity means is taken from its layer, as a person takes it; where a leg lies is told
here once more: leg b has its heel at the top. The emitter's own code has no part in it.
"""

import io
import math
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING, Final, NamedTuple

from translator.batch import loop_dimensions
from translator.geometry.outline import leg_outline
from translator.model import (
    CentreMark,
    Feature,
    Hole,
    LegName,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    leg_of,
)
from translator.source import printable

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfgfx import DXFGraphic

PLACE_MM: Final = 0.001

MM_PER_UNIT: Final = {1: 25.4, 4: 1.0}
"""Millimetres in a unit, by the drawing's own number for it."""

_SCRIBES: Final = {"scribe": "SCRIBE", "powder": "POWDER-LINE", "punch": "PUNCH-LINE"}
_SHAPES: Final = frozenset(
    {
        *("LEG-OUTLINE", "HOLE-THROUGH", "HOLE-BLIND", "HOLE-TAPPED", "COUNTERSINK", "MARK-ONLY"),
        *("SLOT", "SLOT-BLIND", "OPENING", "CENTRE-PUNCH", "STAMP", *_SCRIBES.values()),
    }
)
_SLOT_CORNERS: Final = 4


class Shape(NamedTuple):
    """What is drawn or meant: its layer, figures in mm that place it, and its letters."""

    layer: str
    figures: tuple[float, ...]
    text: str = ""
    name: str = ""


def differences(part: Part, leg: LegName, data: bytes) -> Iterator[str]:
    """Yield a sentence for each thing that is not drawn as the part says, to 0.001 mm."""
    import ezdxf

    try:
        drawing = ezdxf.read(io.StringIO(data.decode("utf-8"), newline=None))  # type: ignore[attr-defined]
    except (ezdxf.DXFError, UnicodeDecodeError, ValueError) as error:  # type: ignore[attr-defined]
        yield f"it cannot be read: {printable(str(error))}"
        return
    auditor = drawing.audit()
    if auditor.errors or auditor.fixes:
        yield f"its audit finds {printable(str((auditor.errors or auditor.fixes)[0]))}"
    unit = MM_PER_UNIT.get(drawing.header["$INSUNITS"])
    if unit != MM_PER_UNIT[1 if part.units == "inch" else 4]:
        yield f"its unit is not the {part.units}"
        return
    yield from _compared(list(_meant(part, leg)), list(_drawn(drawing, unit)))
    yield from loop_dimensions.differences(part, leg, drawing, unit)


def _compared(meant: Sequence[Shape], drawn: Sequence[Shape]) -> Iterator[str]:
    for wanted, got in zip_longest(meant, drawn):
        if got is None:
            yield f"{wanted.name} is not drawn"
        elif wanted is None:
            yield f"something on layer {got.layer} is drawn and not in the part"
        elif (got.layer, len(got.figures)) != (wanted.layer, len(wanted.figures)):
            yield f"{wanted.name} is drawn as another kind, on layer {got.layer}"
        elif got.text.rstrip("^") != wanted.text.rstrip("^"):
            yield f"{wanted.name} says {printable(got.text)!r}, not {wanted.text!r}"
        else:
            pairs = zip(got.figures, wanted.figures, strict=True)
            off = max(abs(value - figure) for value, figure in pairs)
            if not off <= PLACE_MM:
                yield f"{wanted.name} is drawn {off:.4f} mm off (held to {PLACE_MM} mm)"


# --- what is meant -------------------------------------------------------------------------


def _meant(part: Part, leg: LegName) -> Iterator[Shape]:
    sign = -1.0 if leg == "b" else 1.0
    yield Shape("LEG-OUTLINE", _ring(leg_outline(part, leg).contour, sign), name="the outline")
    for feature in leg_of(part, leg).features:
        name = f"{feature.kind} {feature.id}".replace("_", " ")
        yield from (shape._replace(name=name) for shape in _shapes(part, feature, sign))


def _shapes(part: Part, feature: Feature, sign: float) -> Iterator[Shape]:
    match feature:
        case Hole():
            u, v = feature.x_mm, sign * feature.y_mm
            yield Shape(_hole_layer(feature), (u, v, feature.diameter_mm))
            if feature.countersink_diameter_mm is not None:
                yield Shape("COUNTERSINK", (u, v, feature.countersink_diameter_mm))
        case Slot():
            long, way = feature.length_mm, 2.0 * math.radians(sign * feature.angle_deg)
            turn = (long * math.cos(way), long * math.sin(way))
            place = (feature.x_mm, sign * feature.y_mm)
            yield Shape(_slot_layer(feature), (*place, feature.width_mm, long, *turn))
        case Opening():
            yield Shape("OPENING", _ring(feature.contour, sign))
        case CentreMark():
            yield Shape("CENTRE-PUNCH", (feature.x_mm, sign * feature.y_mm))
        case Scribe():
            layer = _SCRIBES[feature.method]
            yield Shape(layer, _ring(feature.line, sign, closed=feature.closed))
        case Stamp():
            text = printable(feature.text if feature.text is not None else part.mark)
            yield Shape("STAMP", _letters(feature, sign), text)


def _hole_layer(hole: Hole) -> str:
    if hole.process == "mark-only":
        return "MARK-ONLY"
    if hole.thread is not None:
        return "HOLE-TAPPED"
    return "HOLE-THROUGH" if hole.depth_mm is None else "HOLE-BLIND"


def _slot_layer(slot: Slot) -> str:
    if slot.process == "mark-only":
        return "MARK-ONLY"
    return "SLOT" if slot.depth_mm is None else "SLOT-BLIND"


def _letters(stamp: Stamp, sign: float) -> tuple[float, ...]:
    """Return the foot and the head of the first letter.

    The edge nearest the heel is the foot where the heel is below, and the head on leg b.
    """
    turn, h = math.radians(sign * stamp.angle_deg), stamp.height_mm
    rise = (-h * math.sin(turn), h * math.cos(turn))
    u, v = stamp.x_mm, sign * stamp.from_heel_mm
    if sign < 0.0:
        return (u - rise[0], v - rise[1], u, v)
    return (u, v, u + rise[0], v + rise[1])


def _ring(line: Sequence[Vertex], sign: float, *, closed: bool = True) -> tuple[float, ...]:
    return _line_figures([(v.x_mm, sign * v.y_mm, sign * v.bulge) for v in line], closed=closed)


def _line_figures(
    corners: Sequence[tuple[float, float, float]], *, closed: bool
) -> tuple[float, ...]:
    """Return the corners and the middle of each edge, on its arc; 1.0 first where closed."""
    after = [*corners[1:], corners[0]]
    edges = list(zip(corners, after, strict=True))
    figures = [1.0 if closed else 0.0]
    for (u, v, bulge), (w, z, _) in edges if closed else edges[:-1]:
        # The arc of a bulge stands off the middle of its chord by half the chord times it.
        middle = ((u + w + bulge * (z - v)) / 2.0, (v + z - bulge * (w - u)) / 2.0)
        figures += (u, v, *middle)
    return (*figures, corners[-1][0], corners[-1][1])


# --- what is drawn -------------------------------------------------------------------------


def _drawn(drawing: "Drawing", unit: float) -> Iterator[Shape]:
    for entity in drawing.modelspace():
        if entity.dxf.layer in _SHAPES:
            found = _read(entity, unit)
            if found is not None:
                yield found


def _read(entity: "DXFGraphic", unit: float) -> Shape | None:
    import ezdxf

    dxf = entity.dxf
    match entity.dxftype():
        case "CIRCLE":
            figures = (dxf.center.x * unit, dxf.center.y * unit, 2.0 * dxf.radius * unit)
            return Shape(dxf.layer, figures)
        case "POINT":
            return Shape(dxf.layer, (dxf.location.x * unit, dxf.location.y * unit))
        case "LWPOLYLINE":
            points = entity.get_points("xyb")  # type: ignore[attr-defined]
            corners = [(u * unit, v * unit, bulge) for u, v, bulge in points]
            is_slot = dxf.layer.startswith("SLOT") or dxf.layer == "MARK-ONLY"
            closed = bool(entity.closed)  # type: ignore[attr-defined]
            line = _slot(corners) if is_slot else _line_figures(corners, closed=closed)
            return Shape(dxf.layer, line)
        case "TEXT":
            turn, h = math.radians(dxf.rotation), dxf.height * unit
            u, v = dxf.insert.x * unit, dxf.insert.y * unit
            head = (u - h * math.sin(turn), v + h * math.cos(turn))
            text = ezdxf.decode_dxf_unicode(entity.plain_text())  # type: ignore[attr-defined]
            return Shape(dxf.layer, (u, v, *head), text)
        case _:  # the arms of a centre mark
            return None


def _slot(corners: Sequence[tuple[float, float, float]]) -> tuple[float, ...]:
    """Return middle, width, length and direction of a slot; no figures for another shape."""
    if len(corners) != _SLOT_CORNERS or [round(c[2], 9) for c in corners] != [0.0, 1.0, 0.0, 1.0]:
        return ()
    (a, b, c, d) = [(u, v) for u, v, _ in corners]
    width = math.dist(a, d)
    straight = math.dist(a, b)
    long = straight + width
    way = 2.0 * math.atan2(b[1] - a[1], b[0] - a[0])
    middle = ((a[0] + c[0]) / 2.0, (a[1] + c[1]) / 2.0)
    return (*middle, width, long, long * math.cos(way), long * math.sin(way))
