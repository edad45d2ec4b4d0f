"""Ruled rows of cells: as tall as their words need, one below the other."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import accumulate
from typing import Final, NamedTuple

from msgspec import Struct

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._entities import Box, Line, Spot, Text, new
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


Words = tuple[Layer, str, int, int]
"""A line of words as it is set: layer, words, the column and the level at which it begins."""


class Band(NamedTuple):
    """A row as it is ruled and set; what is set in it shares columns and levels.

    Attributes:
        edges: u of the upright rules between and beside its cells.
        top: v of the rule above it, the lower rule of the band before.
        bottom: v of the rule below it.
        columns: u at which words begin, one for each cell.
        levels: v of baselines, with the height of the letters on them.
        words: its lines of words, cell by cell.
    """

    edges: tuple[float, ...]
    top: float
    bottom: float
    columns: tuple[float, ...]
    levels: tuple[tuple[float, float], ...]
    words: tuple[Words, ...]


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
            for layer, words, column, level in band.words:
                v, height = band.levels[level]
                yield Text(layer, words, Spot(band.columns[column], v), height)
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
    margin = _MARGIN * letter
    bands: list[Band] = []
    known: tuple[float, ...] = ()
    edges: tuple[float, ...] = ()
    columns: tuple[float, ...] = ()
    for row in rows:
        shares = _shares(tuple([cell.share for cell in row]))
        if shares is not known:
            known = shares
            edges = tuple([left + width * share for share in shares])
            columns = tuple([edge + margin for edge in edges[:-1]])
        levels, words, bottom = _set(row, edges, top, letter)
        bands.append(new(Band, (edges, top, bottom, columns, levels, words)))
        top = bottom
    return Ruled(tuple(bands), Box(left, top, left + width, corner.v))


@lru_cache(maxsize=64)
def _shares(shares: tuple[float, ...]) -> tuple[float, ...]:
    """Return where such cells begin and end, as shares of the row; rows are of a few kinds."""
    whole = sum(shares)
    return (0.0, *(reached / whole for reached in accumulate(shares)))


def _set(
    row: Row, edges: tuple[float, ...], top: float, letter: float
) -> tuple[tuple[tuple[float, float], ...], tuple[Words, ...], float]:
    """Set the words of a row's cells; return levels and words, and where the row ends.

    Args:
        row: the cells.
        edges: u of the left edge of each cell, and of the right edge of the last.
        top: the upper edge of all.
        letter: letter height.
    """
    margin, small = _MARGIN * letter, _CAPTION * letter
    levels: list[tuple[float, float]] = []
    words: list[Words] = []
    bottom, right, ladder, level = top, edges[0], None, 0
    for column, cell in enumerate(row):
        left, right = right, edges[column + 1]
        layer, caption, size = cell.layer, cell.caption, cell.size * letter
        if (size, not caption) != ladder:  # cells of one kind, as most rows have, share levels
            ladder, level = (size, not caption), len(levels)
            levels += _first_levels(top, letter, size, captioned=bool(caption))
        at, lowest = level, top - letter
        if caption:
            words.append((layers.CAPTION, caption, column, at))
            lowest = levels[at][0] - 0.25 * small
            at += 1
        room = max((right - left - 2.0 * margin) / size, _LEAST_ROOM)
        for paragraph in cell.texts:
            for line in fitted(paragraph, room):
                if at == len(levels):
                    levels.append((levels[-1][0] - _PITCH * size, size))
                words.append((layer, line, column, at))
                lowest = levels[at][0] - 0.25 * size
                at += 1
        if lowest - margin < bottom:  # noqa: PLR1730 - to call min takes as long as all the rest
            bottom = lowest - margin
    return tuple(levels), tuple(words), bottom


def _first_levels(
    top: float, letter: float, size: float, *, captioned: bool
) -> list[tuple[float, float]]:
    """Return the level of a caption, if there is one, and of the first line of words."""
    v, small = top - 0.4 * letter, _CAPTION * letter
    if not captioned:
        return [(v - 1.25 * size, size)]
    v -= 1.25 * small
    return [(v, small), (v - 0.25 * small - 1.25 * size, size)]


def _rule(u: float, v: float, to_u: float, to_v: float) -> Line:
    return Line(layers.TITLE_BLOCK, Spot(u, v), Spot(to_u, to_v))
