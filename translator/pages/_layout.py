"""Fit a piece into the width of a picture: true to scale, empty stretches left out, in rows.

Along and across have one scale, so a hole is round and a slot lies as it does on the steel. A
piece too long for that is shown with breaks, and one that is still too long in several rows.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.geometry.contours import Contour
from translator.geometry.outline import leg_outline
from translator.model import LegName, Part, leg_names, leg_of, leg_width
from translator.pages._drawing import reach

ROOM: Final = 760.0
"""Units that a row of a picture has for the piece."""

_TALLEST: Final = 200.0
"""Height of a leg at most, in units."""

_LOWEST: Final = 110.0
"""Height of a leg that is worth breaking a long piece for, in units."""

BREAK: Final = 26.0
"""Room of a break, in units."""

_MOST_ROWS: Final = 12
_MOST_WINDOWS: Final = 60


class Window(Struct, frozen=True, kw_only=True):
    """A stretch of the piece that is drawn.

    Attributes:
        start_mm, stop_mm: the stretch, x from the start end.
        left: where it begins in its row, in units from the row's left edge.
        row: number of the row, from 0.
        opens, closes: whether the piece goes on before and behind it, shown by a break.
    """

    start_mm: float
    stop_mm: float
    left: float
    row: int
    opens: bool
    closes: bool


class Layout(Struct, frozen=True, kw_only=True):
    """How both legs of a piece are laid out; they share it, so that their x agree.

    Attributes:
        scale: units for one millimetre.
        windows: the stretches drawn, by x.
        contours: the outline of each leg, empty where it can't be told.
    """

    scale: float
    windows: tuple[Window, ...]
    contours: Mapping[LegName, Contour]

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return self.windows[-1].row + 1

    def place(self, x: float) -> tuple[int, float]:
        """Return the row of a place of the piece, and where it lies in it.

        A place in a stretch that is not drawn is brought to the nearest one that is.
        """
        nearest = min(self.windows, key=lambda w: max(w.start_mm - x, x - w.stop_mm, 0.0))
        inside = min(max(x, nearest.start_mm), nearest.stop_mm)
        return nearest.row, nearest.left + (inside - nearest.start_mm) * self.scale


def lay_out(part: Part) -> Layout:
    """Return the layout of a part, features that lie off the steel within reason included."""
    contours = {leg: leg_outline(part, leg).contour for leg in leg_names(part)}
    stretches, scale = _fitted(part, contours)
    return Layout(
        scale=scale, windows=_in_rows(stretches, scale), contours=MappingProxyType(contours)
    )


def _fitted(
    part: Part, contours: Mapping[LegName, Contour]
) -> tuple[Sequence[tuple[float, float]], float]:
    """Return the stretches that are drawn, and the scale."""
    widest = max(leg_width(part.section, leg) for leg in leg_names(part))
    margin = max(10.0, 0.2 * widest)
    busy = _merged(_busy(part, contours, margin), 4.0 * margin)
    start, stop = busy[0][0], busy[-1][1]
    whole = min(_TALLEST / widest, ROOM / (stop - start))
    if whole * widest >= _LOWEST:
        return [(start, stop)], whole
    if len(busy) > _MOST_WINDOWS:
        busy = [(start, stop)]
    drawn = sum(b - a for a, b in busy)
    scale = min(_TALLEST / widest, (ROOM - BREAK * (len(busy) - 1)) / drawn)
    if scale * widest >= _LOWEST:
        return busy, scale
    # Rows hold a little less than they could: a stretch is not cut through a feature.
    most = 0.8 * _MOST_ROWS * (ROOM - 2 * BREAK) / drawn
    scale = max(min(_LOWEST / widest, most), 1e-6)
    pieces = [
        piece
        for stretch in busy
        for piece in _cut(stretch, (ROOM - 2 * BREAK) / scale, _solid(part))
    ]
    return pieces, scale


def _busy(
    part: Part, contours: Mapping[LegName, Contour], margin: float
) -> Iterator[tuple[float, float]]:
    """Yield the stretches in which there is something to see."""
    length = part.length_mm
    least, most = -0.5 * length - margin, 1.5 * length + margin
    yield (0.0, min(margin, length))
    yield (max(length - margin, 0.0), length)
    for leg in leg_names(part):
        for corner in contours[leg]:
            x = min(max(corner.x_mm, least), most)
            yield (max(x - margin, min(x, 0.0)), min(x + margin, max(x, length)))
        for feature in leg_of(part, leg).features:
            left, right = reach(part, leg, feature)
            left, right = max(left, least), min(right, most)
            if left <= right:
                yield (min(left, max(left - margin, 0.0)), max(right, min(right + margin, length)))


def _merged(stretches: Iterable[tuple[float, float]], near: float) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for start, stop in sorted(stretches):
        if merged and start - merged[-1][1] <= near:
            merged[-1] = (merged[-1][0], max(merged[-1][1], stop))
        else:
            merged.append((start, stop))
    return merged


def _solid(part: Part) -> list[tuple[float, float]]:
    """Return the stretches that no cut between two rows should go through, merged."""
    taken = (reach(part, leg, f) for leg in leg_names(part) for f in leg_of(part, leg).features)
    return _merged(taken, 0.0)


def _cut(
    stretch: tuple[float, float], room_mm: float, solid: Sequence[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    """Cut a stretch into pieces that fit a row, between features where that is possible."""
    start, stop = stretch
    while stop - start > room_mm:
        at = _gap_before(start, start + room_mm, solid)
        yield (start, at)
        start = at
    yield (start, stop)


def _gap_before(start: float, most: float, solid: Sequence[tuple[float, float]]) -> float:
    """Return the middle of the last gap between features that a row can end in, else its end."""
    edge = most
    for left, right in reversed(solid):
        if left < most and right < edge:
            middle = (max(right, start) + min(edge, most)) / 2.0
            return middle if middle > (start + most) / 2.0 else most
        edge = min(edge, left) if right > start else edge
    return most


def _in_rows(stretches: Sequence[tuple[float, float]], scale: float) -> tuple[Window, ...]:
    windows: list[Window] = []
    row, left = 0, 0.0
    last = len(stretches) - 1
    for index, (start, stop) in enumerate(stretches):
        wide = (stop - start) * scale
        if left and left + wide > ROOM + 0.01:
            row, left = row + 1, 0.0
        windows.append(
            Window(
                start_mm=start,
                stop_mm=stop,
                left=left,
                row=row,
                opens=index > 0,
                closes=index < last,
            )
        )
        left += wide + BREAK
    return tuple(windows)
