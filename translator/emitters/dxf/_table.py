"""Ruled rows of cells: as tall as their words need, one below the other."""

from collections.abc import Iterable
from functools import lru_cache
from itertools import accumulate
from typing import Final, NamedTuple

from msgspec import Struct

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._entities import LEFT, Box, Line, Spot, Text, new
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


class Cell(Struct, frozen=True, kw_only=True, gc=False):
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
    top, margin = corner.v, _MARGIN * letter
    for row in rows:
        shares = _shares(tuple([cell.share for cell in row]))
        edges = [corner.u + width * share for share in shares]
        bottom = top
        for cell, left, right in zip(row, edges, edges[1:], strict=False):
            lowest = _set(entities, cell, (left, top, right - left), letter) - margin
            if lowest < bottom:  # noqa: PLR1730 - to call min takes as long as all the rest
                bottom = lowest
        entities += [
            new(Line, (layers.TITLE_BLOCK, new(Spot, (u, top)), new(Spot, (u, bottom)), 1.0))
            for u in edges
        ]
        entities.append(_level(corner.u, bottom, width))
        top = bottom
    return Ruled(tuple(entities), Box(corner.u, top, corner.u + width, corner.v))


@lru_cache(maxsize=64)
def _shares(shares: tuple[float, ...]) -> tuple[float, ...]:
    """Return where such cells begin and end, as shares of the row; rows are of a few kinds."""
    whole = sum(shares)
    return (0.0, *(reached / whole for reached in accumulate(shares)))


def _set(
    entities: list[Line | Text], cell: Cell, room: tuple[float, float, float], letter: float
) -> float:
    """Set the words of a cell and return how low they reach.

    Args:
        entities: what they are added to.
        cell: the cell.
        room: its left and upper edges and its width.
        letter: letter height.
    """
    left, top, width = room
    layer, size = cell.layer, cell.size * letter
    u, v = left + _MARGIN * letter, top - 0.4 * letter
    lowest = top - letter
    if cell.caption:
        small = _CAPTION * letter
        v -= 1.25 * small
        entities.append(
            new(Text, (layers.CAPTION, cell.caption, new(Spot, (u, v)), small, 0.0, LEFT))
        )
        lowest = v - 0.25 * small
        v -= 0.25 * small
    letters = max((width - 2.0 * _MARGIN * letter) / size, _LEAST_ROOM)
    v -= 1.25 * size
    for paragraph in cell.texts:
        for line in fitted(paragraph, letters):
            entities.append(new(Text, (layer, line, new(Spot, (u, v)), size, 0.0, LEFT)))
            lowest = v - 0.25 * size
            v -= _PITCH * size
    return lowest


def _level(u: float, v: float, width: float) -> Line:
    return Line(layers.TITLE_BLOCK, new(Spot, (u, v)), new(Spot, (u + width, v)))
