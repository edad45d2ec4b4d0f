"""Rows as values: what a sheet says, before any convention places it on a leg."""

from collections.abc import Iterable
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace

from translator.model import Angle, Flat
from translator.readers.nc._book import Book
from translator.readers.nc._figures import Row
from translator.readers.nc._header import Header

MOST_RECORDS: Final = 1000
"""Holes, points and stamps in one part; a real part has some dozens."""

HoleKind = Literal["plain", "tapped-right", "tapped-left", "mark", "countersink"]


class HoleRecord(Struct, frozen=True, kw_only=True):
    """One row of BO. ``ref`` is o, u or s; depth 0 means through.

    Width, height and angle are those of a slot as written; ``is_slot`` is False without one.
    """

    line: int
    view: str
    ref: str
    x: float
    y: float
    diameter: float
    kind: HoleKind
    depth: float
    is_slot: bool
    width: float = 0.0
    height: float = 0.0
    angle: float = 0.0


class PointRecord(Struct, frozen=True, kw_only=True):
    """One point of a contour or line; the radius is that of the edge to the next point."""

    line: int
    ref: str
    x: float
    y: float
    radius: float


class ContourRecord(Struct, frozen=True, kw_only=True):
    """One run of points of AK, IK, PU or KO in one view."""

    code: str
    view: str
    points: tuple[PointRecord, ...]

    @property
    def line(self) -> int:
        """Number of the first point's line."""
        return self.points[0].line


class StampRecord(Struct, frozen=True, kw_only=True):
    """One row of SI; x and y are the lower left of the text in the view."""

    line: int
    view: str
    ref: str
    x: float
    y: float
    angle: float
    height: float
    may_move: bool
    text: str


class Records(Struct, frozen=True, kw_only=True):
    """All that a sheet says about its piece, in view coordinates.

    ``outers`` are the AK contours, ``inners`` IK, ``lines`` PU and KO.
    """

    header: Header
    section: Angle | Flat
    is_inch: bool
    length: float
    holes: tuple[HoleRecord, ...]
    outers: tuple[ContourRecord, ...]
    inners: tuple[ContourRecord, ...]
    lines: tuple[ContourRecord, ...]
    stamps: tuple[StampRecord, ...]

    def refs(self) -> frozenset[str]:
        """Return the reference letters that occur."""
        return frozenset(ref for _, ref in self.marks())

    def views(self) -> frozenset[str]:
        """Return the views that occur."""
        return frozenset(view for view, _ in self.marks())

    def marks(self) -> Iterable[tuple[str, str]]:
        """Yield (view, reference letter) of every record."""
        yield from ((hole.view, hole.ref) for hole in self.holes)
        yield from ((stamp.view, stamp.ref) for stamp in self.stamps)
        for contour in (*self.outers, *self.inners, *self.lines):
            for point in contour.points:
                yield contour.view, point.ref


class Track:
    """Carries the view and the reference letter from one row of a block to the next."""

    __slots__ = ("book", "is_flat", "ref", "view")

    def __init__(self, *, book: Book, is_flat: bool) -> None:
        self.book = book
        self.is_flat = is_flat
        self.view = ""
        self.ref = ""

    def view_of(self, row: Row) -> str | None:
        """Return the row's view; the one before it when the row names none.

        A flat's first row without a view is taken to be in v, its only usual one.
        """
        if row.view:
            self.view = row.view
        elif self.view:
            pass
        elif self.is_flat:
            text = "the view is missing; a flat's view v was taken"
            self.book.warn("nc-view-missing", text, row.line.number)
            self.view = "v"
        else:
            text = "the view is missing in the first row of a block; the leg cannot be told"
            self.book.refuse("nc-view-missing", text, row.line.number)
            return None
        return self.view

    def say_carried(self, row: Row) -> None:
        """Report a row of holes or stamps that leaves its view to the row before."""
        if not row.view and self.view:
            text = "the view is missing; that of the row before was taken"
            self.book.odd("nc-view-missing", text, row.line.number)

    def ref_of(self, row: Row, letters: str, *, is_point: bool = False) -> str | None:
        """Return the reference letter; that of the row before, else u, when there is none."""
        if letters in ("o", "u", "s"):
            self.ref = letters
            return letters
        if letters:
            text = f"{letters!r} behind x is no reference letter (o, u or s)"
            self.book.refuse("nc-row-unreadable", text, row.line.number)
            return None
        if not self.ref:
            self.ref = "u"
            text = "the reference letter is missing; u (lower edge) was taken"
            self.book.odd("nc-reference-missing", text, row.line.number)
        elif not is_point:
            text = f"the reference letter is missing; {self.ref} of the row before was taken"
            self.book.odd("nc-reference-missing", text, row.line.number)
        return self.ref


def without_letters(row: Row, first: int, book: Book) -> bool:
    """Tell, with an error, whether letters stand behind figures that take none."""
    for figure in row.figures[first:]:
        if figure.letters:
            text = (
                f"{figure.letters!r} behind {figure.text} is no letter that the format knows there"
            )
            book.refuse("nc-row-unreadable", text, row.line.number, figure.column)
            return False
    return True


def too_many(row: Row, most: int, book: Book) -> Row:
    """Cut a row to the figures that the standard knows, and say so."""
    if len(row.figures) <= most:
        return row
    text = f"rows hold more than the {most} figures that the standard knows; the rest was not used"
    book.warn("nc-row-too-long", text, row.line.number, row.figures[most].column)
    return replace(row, figures=row.figures[:most])
