"""Read the dimensions of a leg drawing and hold them against the part."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

from translator.lengths.parse import LengthError, parse_length
from translator.model import CentreMark, Hole, LegName, Part, Slot, leg_of, leg_width

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities import Dimension

PLACE_MM: Final = 0.001

SAME_MM: Final = 0.006
"""A dimension may stand for places so near to its own."""

_ORDINATE: Final = 6
_ALONG: Final = 64
_KIND: Final = 15
_COARSE_MM: Final = {"inch": 25.4 / 32.0, "mm": 0.05}
"""An auxiliary dimension, in brackets, is rounded to the nearest 1/16 in. or 0.1 mm."""

_TOO_MANY: Final = "places are too close to dimension"


class Read(NamedTuple):
    """A dimension: what it measures ("x", "y", "length", "width"), where, how far, what it says."""

    kind: str
    first: float
    measure: float
    text: str


def differences(part: Part, leg: LegName, drawing: "Drawing", unit: float) -> Iterator[str]:
    """Yield a sentence for each dimension that is not true, and each place without one."""
    found = [_read(drawing, d, unit) for d in drawing.modelspace().query("DIMENSION")]  # type: ignore[arg-type]
    for dimension in found:
        yield from _false(part, dimension)
    told = {kind: [d.measure for d in found if d.kind == kind] for kind in ("x", "y")}
    told["x"] += [x for d in found for x in _places(d)]
    features = [f for f in leg_of(part, leg).features if isinstance(f, Hole | Slot | CentreMark)]
    if any(_TOO_MANY in text.dxf.text for text in drawing.modelspace().query("TEXT")):
        features = []
    wanted = {
        "x": {0.0, part.length_mm, *(f.x_mm for f in features)},
        "y": {0.0, leg_width(part.section, leg), *(f.y_mm for f in features)},
    }
    for kind, values in wanted.items():
        for value in sorted(values):
            if not any(abs(value - measure) <= SAME_MM for measure in told[kind]):
                words = "along the piece" if kind == "x" else "across the leg"
                yield f"{value:g} mm {words} has no dimension"


def _read(drawing: "Drawing", entity: "Dimension", unit: float) -> Read:
    dxf = entity.dxf
    letters = [e for e in drawing.blocks.get(dxf.geometry) if e.dxftype() == "TEXT"]
    text = letters[0].plain_text() if letters else ""  # type: ignore[attr-defined]
    if dxf.dimtype & _KIND == _ORDINATE:
        kind = "x" if dxf.dimtype & _ALONG else "y"
        way = dxf.defpoint2 - dxf.defpoint
        measure = abs(way.x if kind == "x" else way.y)
        return Read(kind, 0.0, measure * unit, text)
    kind = "length" if dxf.angle % 180.0 == 0.0 else "width"
    return Read(kind, dxf.defpoint2.x * unit, abs(entity.get_measurement()) * unit, text)


def _false(part: Part, dimension: Read) -> Iterator[str]:
    _, _, figure = dimension.text.rpartition("= ")
    allowed = PLACE_MM
    if figure.startswith("("):
        figure, allowed = figure.strip("()"), _COARSE_MM[part.units] + PLACE_MM
    try:
        said = float(parse_length(figure, part.units))
    except LengthError:
        yield f"a dimension says {figure!r}, which is no length"
        return
    if not abs(said - dimension.measure) <= allowed:
        yield f"a dimension says {dimension.text} and measures {dimension.measure:.4f} mm"


def _places(dimension: Read) -> Iterator[float]:
    """Yield the places of equal spaces, told as number, space and sum."""
    number, at, _ = dimension.text.partition(" @ ")
    if at and dimension.kind == "length" and number.isdigit():
        spaces = int(number)
        for i in range(spaces + 1):
            yield dimension.first + dimension.measure * i / spaces
