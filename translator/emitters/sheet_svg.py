"""Sheet as SVG: both legs unfolded on paper, for a page or a printer."""

from typing import Final

from translator.emitters._emitter import EmitOptions, Emitter
from translator.emitters._unfolded.sheet import sheet
from translator.emitters._unfolded.svg import svg
from translator.emitters.dxf._drawing import losses
from translator.model import Part


def emit(part: Part, options: EmitOptions) -> bytes:
    """Draw a part on a sheet of paper.

    Raises:
        CannotRepresentError: when a leg has no true outline or no paper is large enough.
        UnknownNameError: for a paper of another name.
    """
    return svg(sheet(part, options.paper), f"Piece {part.mark}, seen from outside")


EMITTER: Final = Emitter(
    name="svg",
    title="sheets on paper, both legs unfolded (SVG)",
    suffix=".sheet.svg",
    per_leg=False,
    media_type="image/svg+xml",
    emit=emit,
    losses=losses,
)
