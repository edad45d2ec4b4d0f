"""Sheet as PDF: both legs unfolded on paper, for the shop's printer."""

from typing import Final

from translator.emitters._emitter import EmitOptions, Emitter
from translator.emitters._unfolded.pdf import pdf, said
from translator.emitters._unfolded.sheet import sheet
from translator.emitters.dxf._drawing import losses
from translator.model import Part, Stamp, leg_names, leg_of
from translator.source import printable


def emit(part: Part, options: EmitOptions) -> bytes:
    """Draw a part on a sheet of paper.

    Raises:
        CannotRepresentError: when a leg has no true outline or no paper is large enough.
        UnknownNameError: for a paper of another name.
        WorkError: when the package that writes PDF is not installed.
    """
    return pdf(sheet(part, options.paper), f"Piece {part.mark}, seen from outside")


def _losses(part: Part) -> tuple[str, ...]:
    stamps = [
        f.text
        for leg in leg_names(part)
        for f in leg_of(part, leg).features
        if isinstance(f, Stamp)
    ]
    texts = (
        *(part.mark, part.title, part.grade, part.order, part.drawing, part.revision),
        *(part.phase, part.lot, part.finish, part.section.designation),
        *(*part.remarks, *part.second_work, *stamps),
    )
    if all(text is None or said(text) == printable(text) for text in texts):
        return losses(part)
    return (
        *losses(part),
        "letters that the PDF's own font has not are shown by their numbers",
    )


EMITTER: Final = Emitter(
    name="pdf",
    title="sheets on paper, both legs unfolded (PDF)",
    suffix=".sheet.pdf",
    per_leg=False,
    media_type="application/pdf",
    emit=emit,
    losses=_losses,
)
