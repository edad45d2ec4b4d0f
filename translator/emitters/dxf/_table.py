"""Ruled rows of cells: as tall as their words need, one below the other."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final, NamedTuple

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._entities import Box, Line, Spot, Text
from translator.emitters.dxf._layers import Layer
from translator.emitters.dxf._text import fitted

_PITCH: Final = 1.6
"""From baseline to baseline, in letter heights; a line of text takes 1.5."""

_MARGIN: Final = 0.5
"""Between a rule and the words beside it, in letter heights."""

_CAPTION: Final = 0.65
"""Height of a caption's letters, in letter heights."""

_LEAST_ROOM: Final = 3.0
"""A cell takes at least a broad letter or two, in letter heights."""


class Cell(NamedTuple):
    """A cell.

    Attributes:
        texts: its paragraphs.
        caption: what it holds, in small letters above; "" for none.
        layer: of its words.
        size: height of its letters, in letter heights.
        share: width, as a share of the row.
    """

    texts: tuple[str, ...]
    caption: str = ""
    layer: Layer = layers.NOTE
    size: float = 1.0
    share: float = 1.0


Row = tuple[Cell, ...]


class Ruled(NamedTuple):
    """A table: its rules and words, and its frame."""

    entities: tuple[Line | Text, ...]
    around: Box


def ruled(rows: Iterable[Row], corner: Spot, width: float, letter: float) -> Ruled:
    """Set rows into a frame.

    Args:
        rows: each takes the whole width.
        corner: upper left corner of the frame.
        width: of the frame.
        letter: letter height.
    """
    entities: list[Line | Text] = [_level(corner.u, corner.v, width)]
    top = corner.v
    for row in rows:
        edges = _edges(row, corner.u, width)
        bottom = top
        for cell, left, right in zip(row, edges[:-1], edges[1:], strict=True):
            words = list(_words(cell, Spot(left, top), right - left, letter))
            entities += words
            lowest = min((text.at.v - 0.25 * text.height for text in words), default=top - letter)
            bottom = min(bottom, lowest - _MARGIN * letter)
        entities += [Line(layers.TITLE_BLOCK, Spot(u, top), Spot(u, bottom)) for u in edges]
        entities.append(_level(corner.u, bottom, width))
        top = bottom
    return Ruled(tuple(entities), Box(corner.u, top, corner.u + width, corner.v))


def _edges(row: Row, left: float, width: float) -> Sequence[float]:
    whole = sum(cell.share for cell in row)
    edges, reached = [left], 0.0
    for cell in row:
        reached += cell.share
        edges.append(left + width * (reached / whole))
    return edges


def _words(cell: Cell, corner: Spot, width: float, letter: float) -> Iterator[Text]:
    size = cell.size * letter
    u, v = corner.u + _MARGIN * letter, corner.v - 0.4 * letter
    if cell.caption:
        small = _CAPTION * letter
        v -= 1.25 * small
        yield Text(layers.CAPTION, cell.caption, Spot(u, v), small)
        v -= 0.25 * small
    room = max((width - 2.0 * _MARGIN * letter) / size, _LEAST_ROOM)
    v -= 1.25 * size
    for paragraph in cell.texts:
        for line in fitted(paragraph, room):
            yield Text(cell.layer, line, Spot(u, v), size)
            v -= _PITCH * size


def _level(u: float, v: float, width: float) -> Line:
    return Line(layers.TITLE_BLOCK, Spot(u, v), Spot(u + width, v))
