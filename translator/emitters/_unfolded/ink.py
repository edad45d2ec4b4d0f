"""What a layer looks like in ink on white paper."""

from types import MappingProxyType
from typing import Final

from translator.emitters._unfolded.paper import LETTER_MM
from translator.emitters.dxf._entities import Line, Shape
from translator.emitters.dxf._layers import DIMENSION_LETTER, Layer

COLOURS: Final = MappingProxyType(
    {
        1: "#c00000",
        7: "#000000",
        8: "#5f5f5f",
        32: "#8a5200",
        42: "#7a6a00",
        94: "#1b7a1b",
        134: "#00708a",
        150: "#0060c0",
        200: "#8a2be2",
        213: "#a03a90",
        230: "#b0005a",
        233: "#8a3a5c",
    }
)
"""Index colour -> ink; each has a contrast of at least 4.5 to 1 on white."""

_DASHES: Final = LETTER_MM / DIMENSION_LETTER
"""Line types are made for that letter height."""


def ink(layer: Layer) -> str:
    """Return the colour of a layer as ``#rrggbb``."""
    return COLOURS[layer.colour]


def pen_mm(layer: Layer) -> float:
    """Return the line width of a layer."""
    return layer.width / 100.0


def dashes_mm(shape: Shape) -> tuple[float, ...]:
    """Return lengths of dashes and gaps in turn; empty for a line that runs on."""
    factor = _DASHES * (shape.pattern if isinstance(shape, Line) else 1.0)
    return tuple(abs(dash) * factor for dash in shape.layer.line_type.pattern)
