"""Ruled rows of cells: as tall as their words need, one below the other."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import accumulate
from typing import Final, NamedTuple

from msgspec import Struct

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._entities import Box, Line, Spot, Text, new
from translator.emitters.dxf._layers import Layer
from translator.emitters.dxf._text import broken, one_line

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


Set = tuple[Layer, str, float, float, float]
"""A line of words as it is set: layer, words, u and v of its baseline, height of its letters."""


class Band(NamedTuple):
    """A row as it is ruled and set.

    Attributes:
        edges: u of the upright rules between and beside its cells.
        top: v of the rule above it, the lower rule of the band before.
        bottom: v of the rule below it.
        words: its lines of words, cell by cell.
    """

    edges: tuple[float, ...]
    top: float
    bottom: float
    words: tuple[Set, ...]


class Ruled(NamedTuple):
    """A table: its rows one below the other, and its frame."""

    bands: tuple[Band, ...]
    around: Box

    @property
    def entities(self) -> Iterator[Line | Text]:
        """Its rules and words one by one, in the order in which a drawing has them."""
        left, _, right, top = self.around
        yield _rule(left, top, right, top)
        for band in self.bands:
            for layer, words, u, v, height in band.words:
                yield Text(layer, words, Spot(u, v), height)
            for u in band.edges:
                yield _rule(u, band.top, u, band.bottom)
            yield _rule(left, band.bottom, right, band.bottom)


def ruled(rows: Iterable[Row], corner: Spot, width: float, letter: float) -> Ruled:
    """Set rows into a frame.

    Args:
        rows: each takes the whole width.
        corner: upper left corner of the frame.
        width: of the frame.
        letter: letter height.
    """
    left, top = corner
    bands: list[Band] = []
    for row in rows:
        shares = _shares(tuple([cell.share for cell in row]))
        edges = tuple([left + width * share for share in shares])
        words, bottom = _set(row, edges, top, letter)
        bands.append(new(Band, (edges, top, bottom, words)))
        top = bottom
    return Ruled(tuple(bands), Box(left, top, left + width, corner.v))


@lru_cache(maxsize=64)
def _shares(shares: tuple[float, ...]) -> tuple[float, ...]:
    """Return where such cells begin and end, as shares of the row; rows are of a few kinds."""
    whole = sum(shares)
    return (0.0, *(reached / whole for reached in accumulate(shares)))


def _set(
    row: Row, edges: tuple[float, ...], top: float, letter: float
) -> tuple[tuple[Set, ...], float]:
    """Set the words of a row's cells; return them and where the row ends.

    Args:
        row: the cells.
        edges: u of the left edge of each cell, and of the right edge of the last.
        top: the upper edge of all.
        letter: letter height.
    """
    margin, small = _MARGIN * letter, _CAPTION * letter
    begin = top - 0.4 * letter
    caption_v = begin - 1.25 * small
    below_caption = caption_v - 0.25 * small
    found: list[Set] = []
    bottom = top
    right = edges[0]
    for index, cell in enumerate(row, 1):
        left, right = right, edges[index]
        layer, size, u = cell.layer, cell.size * letter, left + margin
        v, lowest = begin, top - letter
        if cell.caption:
            found.append((layers.CAPTION, cell.caption, u, caption_v, small))
            v = lowest = below_caption
        v -= 1.25 * size
        room = (right - left - 2.0 * margin) / size
        for paragraph in cell.texts:
            lines, wide = one_line(paragraph)
            if wide > room:
                lines = broken(paragraph, max(room, _LEAST_ROOM))
            for line in lines:
                found.append((layer, line, u, v, size))
                lowest = v - 0.25 * size
                v -= _PITCH * size
        if lowest - margin < bottom:  # noqa: PLR1730 - to call min takes as long as all the rest
            bottom = lowest - margin
    return tuple(found), bottom


def _rule(u: float, v: float, to_u: float, to_v: float) -> Line:
    return Line(layers.TITLE_BLOCK, Spot(u, v), Spot(to_u, to_v))
