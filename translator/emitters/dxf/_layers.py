"""Layers and line types of a leg drawing: the one list that template and emitter share.

Names are trade words. Colours are index colours that stand out from white *and* from black
paper (contrast at least 3.6 to 1 both ways); 7 is the index that turns with the background.
Widths and line types follow ISO 128-2: two widths, 2 to 1; dashes counted in line widths.
"""

from typing import Final

from msgspec import Struct

TEXT_STYLE: Final = "LETTERS"
"""Name of the text style of every text."""

TEXT_FONT: Final = "arial.ttf"
"""Font of that style; its capitals are as high as the text height says."""

DIMENSION_STYLE: Final = "SHOP"
"""Name of the style of every dimension."""

DIMENSION_LETTER: Final = 3.5
"""Letter height of that style in mm of paper; a drawing scales it to its own letters."""

WIDE: Final = 50
"""Line width of what is made, in 0.01 mm."""

NARROW: Final = 25
"""Line width of everything else, in 0.01 mm."""


class LineType(Struct, frozen=True, kw_only=True):
    """A line type: dashes positive, gaps negative, in mm of the paper at scale 1."""

    name: str
    description: str
    pattern: tuple[float, ...]

    @property
    def period_mm(self) -> float:
        """Length after which the pattern repeats."""
        return sum(abs(dash) for dash in self.pattern)


CONTINUOUS: Final = LineType(name="Continuous", description="", pattern=())
DASHED: Final = LineType(
    name="ISO128-02-DASHED", description="__ __ __ __ __", pattern=(3.0, -0.75)
)
CHAIN: Final = LineType(
    name="ISO128-04-CHAIN",
    description="____ . ____ . ____ .",
    pattern=(6.0, -0.75, 0.125, -0.75),
)
DOUBLE_CHAIN: Final = LineType(
    name="ISO128-05-DOUBLE-CHAIN",
    description="____ . . ____ . . ____",
    pattern=(6.0, -0.75, 0.125, -0.75, 0.125, -0.75),
)
LINE_TYPES: Final = (DASHED, CHAIN, DOUBLE_CHAIN)
"""What the template adds to the continuous line that every drawing has."""


class Layer(Struct, frozen=True, kw_only=True):
    """A layer: name, index colour, line width in 0.01 mm, line type."""

    name: str
    colour: int
    width: int = NARROW
    line_type: LineType = CONTINUOUS


OUTLINE: Final = Layer(name="LEG-OUTLINE", colour=7, width=WIDE)
HEEL: Final = Layer(name="HEEL", colour=1, line_type=DOUBLE_CHAIN)
OTHER_LEG: Final = Layer(name="OTHER-LEG-INSIDE", colour=8, line_type=DASHED)
FILLET: Final = Layer(name="FILLET", colour=32, line_type=DASHED)
GAUGE_LINE: Final = Layer(name="GAUGE-LINE", colour=94, line_type=CHAIN)
CENTRE_LINE: Final = Layer(name="CENTRE-LINE", colour=94, line_type=CHAIN)
HOLE_THROUGH: Final = Layer(name="HOLE-THROUGH", colour=150, width=WIDE)
HOLE_BLIND: Final = Layer(name="HOLE-BLIND", colour=230, width=WIDE)
HOLE_TAPPED: Final = Layer(name="HOLE-TAPPED", colour=200, width=WIDE)
COUNTERSINK: Final = Layer(name="COUNTERSINK", colour=213)
SLOT: Final = Layer(name="SLOT", colour=150, width=WIDE)
SLOT_BLIND: Final = Layer(name="SLOT-BLIND", colour=230, width=WIDE)
MARK_ONLY: Final = Layer(name="MARK-ONLY", colour=42, line_type=DASHED)
OPENING: Final = Layer(name="OPENING", colour=150, width=WIDE)
CENTRE_PUNCH: Final = Layer(name="CENTRE-PUNCH", colour=1)
SCRIBE: Final = Layer(name="SCRIBE", colour=134)
POWDER_LINE: Final = Layer(name="POWDER-LINE", colour=134)
PUNCH_LINE: Final = Layer(name="PUNCH-LINE", colour=134, line_type=DASHED)
STAMP: Final = Layer(name="STAMP", colour=233)
LABEL: Final = Layer(name="LABEL", colour=8)
DIMENSION: Final = Layer(name="DIMENSION", colour=7)
BREAK_LINE: Final = Layer(name="BREAK-LINE", colour=7)
TITLE_BLOCK: Final = Layer(name="TITLE-BLOCK", colour=8)
FRAME: Final = Layer(name="FRAME", colour=7, width=WIDE)
KEY_PLAN: Final = Layer(name="KEY-PLAN", colour=7)
CAPTION: Final = Layer(name="CAPTION", colour=8)
TITLE: Final = Layer(name="TITLE", colour=7)
NOTE: Final = Layer(name="NOTE", colour=7)
CAUTION: Final = Layer(name="CAUTION", colour=1)

LAYERS: Final = (
    OUTLINE,
    HEEL,
    OTHER_LEG,
    FILLET,
    GAUGE_LINE,
    CENTRE_LINE,
    HOLE_THROUGH,
    HOLE_BLIND,
    HOLE_TAPPED,
    COUNTERSINK,
    SLOT,
    SLOT_BLIND,
    MARK_ONLY,
    OPENING,
    CENTRE_PUNCH,
    SCRIBE,
    POWDER_LINE,
    PUNCH_LINE,
    STAMP,
    LABEL,
    DIMENSION,
    BREAK_LINE,
    TITLE_BLOCK,
    FRAME,
    KEY_PLAN,
    CAPTION,
    TITLE,
    NOTE,
    CAUTION,
)
"""All layers, in the order in which the template lists them."""
