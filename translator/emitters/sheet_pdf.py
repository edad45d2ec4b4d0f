"""Sheet as PDF: both legs unfolded on paper, for the shop's printer."""

from typing import Final

from translator.emitters._emitter import EmitOptions, Emitter
from translator.emitters._unfolded.pdf import pdf
from translator.emitters._unfolded.sheet import sheet
from translator.emitters.dxf._drawing import losses
from translator.model import Part


def emit(part: Part, options: EmitOptions) -> bytes:
    """Draw a part on a sheet of paper.

    Raises:
        CannotRepresentError: when a leg has no true outline or no paper is large enough.
        UnknownNameError: for a paper of another name.
        WorkError: when the package that writes PDF is not installed.
    """
    return pdf(sheet(part, options.paper), f"Piece {part.mark}, seen from outside")


EMITTER: Final = Emitter(
    name="pdf",
    title="sheets on paper, both legs unfolded (PDF)",
    suffix=".sheet.pdf",
    per_leg=False,
    media_type="application/pdf",
    emit=emit,
    losses=losses,
)
