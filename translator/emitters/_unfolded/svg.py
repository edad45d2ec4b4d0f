"""Write a sheet as SVG: letters stay letters, and the bytes are the same on any machine."""

import math
from collections.abc import Iterator
from typing import Final
from xml.sax.saxutils import escape

from translator.emitters._unfolded.ink import dashes_mm, ink, pen_mm
from translator.emitters._unfolded.sheet import Sheet
from translator.emitters.dxf._entities import (
    Circle,
    Dimension,
    Dot,
    Entity,
    Line,
    Polyline,
    Text,
)
from translator.emitters.dxf._spelling import number
from translator.source import printable

_DECIMALS: Final = 4
_ANCHORS: Final = ("start", "middle", "end")
_CAP: Final = 0.716
"""Height of the capitals of the first font named, in its size."""

_BLANKS: Final = ' xml:space="preserve"'
_FONTS: Final = "Arial, Helvetica, 'Liberation Sans', 'DejaVu Sans', sans-serif"


def svg(sheet: Sheet, title: str) -> bytes:
    """Return a sheet as one SVG document of the paper's size.

    Args:
        sheet: what to write.
        title: name of the drawing, for a reader that does not see it.
    """
    width, height = (number(side, 1) for side in (sheet.paper.width_mm, sheet.paper.height_mm))
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
            f' viewBox="0 0 {width} {height}" role="img" font-family="{_FONTS}">'
        ),
        f"<title>{_plain(title)}</title>",
        f'<rect width="{width}" height="{height}" fill="#ffffff"/>',
        *_groups(sheet),
        "</svg>",
    ]
    return "\n".join([*lines, ""]).encode("utf-8")


def _groups(sheet: Sheet) -> Iterator[str]:
    """Yield entities, those of one layer that follow each other in one group."""
    top = sheet.paper.height_mm
    last = None
    for entity in sheet.entities:
        layer = entity.layer
        if layer is not last:
            if last is not None:
                yield "</g>"
            yield (
                f'<g class="{layer.name.lower()}" fill="none" stroke="{ink(layer)}"'
                f' stroke-width="{number(pen_mm(layer), 2)}">'
            )
            last = layer
        yield _element(entity, top)
    if last is not None:
        yield "</g>"


def _element(entity: Entity, top: float) -> str:
    match entity:
        case Line():
            (u, v), (w, z) = entity.start, entity.end
            return f'<path d="M{_at(u, v, top)}L{_at(w, z, top)}"{_dashed(entity)}/>'
        case Circle():
            u, v = entity.centre
            place = f'cx="{_n(u)}" cy="{_n(top - v)}"'
            return f'<circle {place} r="{_n(entity.radius)}"{_dashed(entity)}/>'
        case Polyline():
            return f'<path d="{_path(entity, top)}"{_dashed(entity)}/>'
        case Dot():
            u, v = entity.at
            return f'<circle cx="{_n(u)}" cy="{_n(top - v)}" r="0.3" fill="{ink(entity.layer)}"/>'
        case Text():
            return _text(entity, top)
        case Dimension():
            return "".join(_element(piece, top) for piece in entity.picture)


def _path(line: Polyline, top: float) -> str:
    corners = line.corners
    after = (*corners[1:], corners[0]) if line.closed else corners[1:]
    pieces = [f"M{_at(corners[0].u, corners[0].v, top)}"]
    for here, there in zip(corners, after, strict=False):
        end = _at(there.u, there.v, top)
        if here.bulge:
            chord = math.hypot(there.u - here.u, there.v - here.v)
            r = _n(chord * (1.0 + here.bulge**2) / (4.0 * abs(here.bulge)))
            # The page counts down, so what turns to the left is drawn with the sweep off.
            pieces.append(f"A{r} {r} 0 0 {0 if here.bulge > 0.0 else 1} {end}")
        else:
            pieces.append(f"L{end}")
    return "".join([*pieces, "Z" if line.closed else ""])


def _text(text: Text, top: float) -> str:
    u, v = text.at
    turn = f' transform="rotate({_n(-text.turn)} {_at(u, v, top)})"' if text.turn else ""
    anchor = f' text-anchor="{_ANCHORS[text.align]}"' if text.align else ""
    place = f'x="{_n(u)}" y="{_n(top - v)}" font-size="{_n(text.height / _CAP)}"'
    look = f'fill="{ink(text.layer)}" stroke="none"'
    return f"<text {place}{anchor}{turn} {look}{_BLANKS}>{_plain(text.text)}</text>"


def _plain(text: str) -> str:
    return escape(printable(text))


def _dashed(entity: Line | Circle | Polyline) -> str:
    dashes = dashes_mm(entity)
    return f' stroke-dasharray="{" ".join(map(_n, dashes))}"' if dashes else ""


def _at(u: float, v: float, top: float) -> str:
    return f"{_n(u)} {_n(top - v)}"


def _n(value: float) -> str:
    return number(value, _DECIMALS).removesuffix(".0")
