"""Write a sheet as PDF, with reportlab (an extra: ``backmark[sheets]``).

The letters are Helvetica, which every reader of PDF has; nothing is embedded, and no date or
number of chance gets into the file.
"""

import io
import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from translator.emitters._unfolded.ink import dashes_mm, ink, pen_mm
from translator.emitters._unfolded.sheet import Sheet
from translator.emitters.dxf._entities import (
    CENTRE,
    Circle,
    Dimension,
    Dot,
    Entity,
    Line,
    Polyline,
    Text,
)
from translator.errors import WorkError
from translator.geometry.edges import Edge, centre, radius, turn
from translator.source import printable

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject

_POINT_MM: Final = 25.4 / 72.0
_FONT: Final = "Helvetica"
_CAP: Final = 0.718
"""Height of the font's capitals, in its size."""

_DOT_MM: Final = 0.3


def pdf(sheet: Sheet, title: str) -> bytes:
    """Return a sheet as a PDF of one page.

    Args:
        sheet: what to write.
        title: name of the document.

    Raises:
        WorkError: when reportlab is not installed.
    """
    try:
        from reportlab.pdfgen.canvas import Canvas
    except ImportError as error:
        raise WorkError("PDF sheets need the package reportlab: pip install reportlab") from error
    stream = io.BytesIO()
    size = (sheet.paper.width_mm / _POINT_MM, sheet.paper.height_mm / _POINT_MM)
    canvas = Canvas(stream, pagesize=size, invariant=1, pageCompression=1)
    canvas.setTitle(said(title))
    canvas.setAuthor("backmark")
    canvas.scale(1.0 / _POINT_MM, 1.0 / _POINT_MM)
    for entity in sheet.entities:
        _draw(canvas, entity)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def said(text: str) -> str:
    """Return a text in the letters that the font has; any other is shown by its number."""
    return "".join(map(_letter, printable(text)))


def _letter(letter: str) -> str:
    try:
        letter.encode("cp1252")
    except UnicodeEncodeError:
        return f"\\u{ord(letter):04x}"
    return letter


def _draw(canvas: "Canvas", entity: Entity) -> None:
    canvas.setStrokeColor(ink(entity.layer))
    canvas.setLineWidth(pen_mm(entity.layer))
    if isinstance(entity, Line | Circle | Polyline):
        canvas.setDash(list(dashes_mm(entity)))
    match entity:
        case Line():
            canvas.line(*entity.start, *entity.end)
        case Circle():
            canvas.circle(*entity.centre, entity.radius)
        case Polyline():
            canvas.drawPath(_path(canvas, entity))
        case Dot():
            canvas.setFillColor(ink(entity.layer))
            canvas.circle(*entity.at, _DOT_MM, stroke=0, fill=1)
        case Text():
            _text(canvas, entity)
        case Dimension():
            for piece in entity.picture:
                _draw(canvas, piece)


def _path(canvas: "Canvas", line: Polyline) -> "PDFPathObject":
    path = canvas.beginPath()
    corners = (*line.corners, line.corners[0]) if line.closed else line.corners
    path.moveTo(corners[0].u, corners[0].v)
    for here, after in pairwise(corners):
        if here.bulge:
            edge = Edge(here.u, here.v, after.u, after.v, here.bulge)
            (u, v), r = centre(edge), radius(edge)
            start = math.degrees(math.atan2(here.v - v, here.u - u))
            path.arcTo(u - r, v - r, u + r, v + r, start, math.degrees(turn(edge)))
        else:
            path.lineTo(after.u, after.v)
    if line.closed:
        path.close()
    return path


def _text(canvas: "Canvas", text: Text) -> None:
    canvas.saveState()
    canvas.setFillColor(ink(text.layer))
    canvas.setFont(_FONT, text.height / _CAP)
    canvas.translate(*text.at)
    canvas.rotate(text.turn)
    letters = said(text.text)
    if not text.align:
        canvas.drawString(0.0, 0.0, letters)
    elif text.align == CENTRE:
        canvas.drawCentredString(0.0, 0.0, letters)
    else:
        canvas.drawRightString(0.0, 0.0, letters)
    canvas.restoreState()
