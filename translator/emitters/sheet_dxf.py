"""Sheet as DXF: both legs unfolded on paper, 1 unit = 1 mm of paper, to scale.

A picture to print. What is measured or made from is the leg drawing (``dxf``), which is 1:1.
"""

from typing import Final

from translator.emitters._emitter import EmitOptions, Emitter
from translator.emitters._unfolded.paper import LETTER_MM
from translator.emitters._unfolded.sheet import sheet
from translator.emitters.dxf._drawing import losses, written
from translator.emitters.dxf._entities import Box
from translator.emitters.dxf._scale import Scale
from translator.model import Part


def emit(part: Part, options: EmitOptions) -> bytes:
    """Draw a part on a sheet of paper.

    Raises:
        CannotRepresentError: when a leg has no true outline or no paper is large enough.
        UnknownNameError: for a paper of another name.
    """
    drawn = sheet(part, options.paper)
    page = Box(0.0, 0.0, drawn.paper.width_mm, drawn.paper.height_mm)
    scale = Scale(letter_mm=LETTER_MM, unit_mm=1.0)
    return written(list(drawn.entities), page, scale).encode("utf-8")


EMITTER: Final = Emitter(
    name="sheet-dxf",
    title="sheets on paper, both legs unfolded (DXF)",
    suffix=".sheet.dxf",
    per_leg=False,
    media_type="image/vnd.dxf",
    emit=emit,
    losses=losses,
)
