"""Rows of AK, IK, PU and KO: points of contours and of layout lines."""

from collections.abc import Iterable
from typing import Final

from translator.readers.nc._figures import Row, Scanner
from translator.readers.nc._inch import Nominal
from translator.readers.nc._records import (
    ContourRecord,
    PointRecord,
    Track,
    too_many,
    without_letters,
)
from translator.readers.nc._tree import Block

SAME_MM: Final = 0.005
"""Points nearer than half the files' step of 0.01 mm are one point."""

_FEWEST: Final = 2
_MOST: Final = 7
_RADIUS: Final = 2
_WELD: Final = 3
_CLOSED: Final = 3


def read_contours(
    block: Block, scanner: Scanner, nominal: Nominal, *, is_flat: bool
) -> Iterable[ContourRecord]:
    """Yield the contours of one block: a new one where the view changes or one is closed."""
    track = Track(book=scanner.book, is_flat=is_flat)
    runs: list[tuple[str, list[PointRecord]]] = []
    for line in block.rows:
        read = scanner.row(line)
        if read is None:
            continue
        point = _point(too_many(read[0], _MOST, scanner.book), track, nominal)
        if point is None:
            continue
        scanner.book.translate(line.number)
        if runs and runs[-1][0] == track.view and not _is_new_run(runs[-1][1], point):
            runs[-1][1].append(point)
        elif not _repeats_closing(runs, point, track):
            runs.append((track.view, [point]))
    if len(runs) > 1 and block.code in ("AK", "IK"):
        text = f"one {block.code} block holds {len(runs)} contours; each was read on its own"
        scanner.book.odd("nc-several-contours", text, block.at.number)
    for view, points in runs:
        yield ContourRecord(code=block.code, view=view, points=tuple(points))


def _is_same(p: PointRecord, q: PointRecord) -> bool:
    return p.ref == q.ref and abs(p.x - q.x) <= SAME_MM and abs(p.y - q.y) <= SAME_MM


def _is_closed(points: list[PointRecord]) -> bool:
    return len(points) > _CLOSED and _is_same(points[0], points[-1])


def _is_new_run(points: list[PointRecord], point: PointRecord) -> bool:
    """Tell whether a point begins a new contour behind one that is closed."""
    return _is_closed(points) or (len(points) == _CLOSED and _is_lens(points, point))


def _is_lens(points: list[PointRecord], point: PointRecord) -> bool:
    """Tell whether three points are a circle of two arcs, closed on itself."""
    round_edges = points[0].radius != 0.0 and points[1].radius != 0.0
    return round_edges and _is_same(points[0], points[2]) and not _is_same(points[0], point)


def _repeats_closing(
    runs: list[tuple[str, list[PointRecord]]], point: PointRecord, track: Track
) -> bool:
    """Tell whether a point only repeats the closing point of the contour before it."""
    if not runs or runs[-1][0] != track.view or not _is_same(runs[-1][1][-1], point):
        return False
    text = "points are repeated; each was taken once"
    track.book.odd("nc-point-repeated", text, point.line)
    return True


def _point(row: Row, track: Track, nominal: Nominal) -> PointRecord | None:
    book, number = track.book, row.line.number
    figures = row.figures
    if len(figures) < _FEWEST:
        text = f"a point needs x and y; the row has {len(figures)} figures"
        book.refuse("nc-row-unreadable", text, number)
        return None
    view = track.view_of(row)
    ref = track.ref_of(row, figures[0].letters, is_point=True)
    if view is None or ref is None or not without_letters(row, _RADIUS, book):
        return None
    letters = figures[1].letters
    radius = figures[_RADIUS].value if len(figures) > _RADIUS else None
    if letters:
        _refuse_corner(letters, radius or 0.0, row, track)
        return None
    if radius is None:
        text = "the radius is missing; the edge was taken as straight"
        book.odd("nc-radius-missing", text, number)
    if any(figure.value for figure in figures[_WELD:]):
        text = (
            "weld preparation of edges (bevel angles and lands) is not translated; the lines"
            " were kept as they stand"
        )
        book.warn("nc-weld-preparation", text, number)
        book.carry(number)
    return PointRecord(
        line=number,
        ref=ref,
        x=nominal.position(figures[0].value),
        y=nominal.size(figures[1].value),
        radius=nominal.size(radius or 0.0),
    )


def _refuse_corner(letters: str, radius: float, row: Row, track: Track) -> None:
    """Refuse the corner letters t and w, of which only the idea is known."""
    book, number = track.book, row.line.number
    if letters not in ("t", "w"):
        text = f"{letters!r} behind y is no letter that the format knows there"
        book.refuse("nc-row-unreadable", text, number)
        return
    size = abs(radius)
    text = (
        f"a corner with the letter {letters} and radius {radius:g}: t may mean a rounding tangent"
        f" to both edges with radius {size:g} mm, w a relief hole of radius {size:g} mm about the"
        " corner; the standard at hand does not say which figure is which, so nothing was cut"
    )
    book.refuse("nc-corner-letter", text, number)
