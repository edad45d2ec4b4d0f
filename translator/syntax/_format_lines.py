"""Lines of part text as they are set: statements below each other, in columns where it helps."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby, pairwise
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

WIDTH: Final = 96
"""Columns that a line may fill; a comment may stand beyond."""

INDENT: Final = 2

_COMMENT_GAP: Final = "  "
_WIDEST_STEP: Final = 24
"""Blanks beyond which a column would tear a line apart."""


class Cell(Struct, frozen=True, kw_only=True):
    """What stands in one column of a line, and the blanks that part it from the cell before."""

    text: str
    gap: str = ""


class Line(Struct, frozen=True, kw_only=True):
    """One line.

    Attributes:
        indent: blanks before it.
        cells: what stands in it; none in a blank line or in one that holds a comment only.
        shape: lines of one shape that follow each other are set in columns; () never.
        comment: the comment at its end, or all that it holds.
    """

    indent: int = 0
    cells: tuple[Cell, ...] = ()
    shape: tuple[str, ...] = ()
    comment: str = ""

    @property
    def text(self) -> str:
        """The line without its indent and comment."""
        return "".join(f"{cell.gap}{cell.text}" for cell in self.cells)

    @property
    def width(self) -> int:
        """Columns that the line fills without its comment."""
        return self.indent + len(self.text)

    @property
    def is_blank(self) -> bool:
        """Whether nothing stands in it."""
        return not self.cells and not self.comment


def text_of(lines: Sequence[Line]) -> str:
    """Return lines as text, each ended by a line feed."""
    told = list(_in_runs(lines, lambda line: line.shape, _in_columns))
    told = list(_in_runs(told, _commented, _comments_below))
    return "".join(f"{_written(line)}\n" for line in told)


def _written(line: Line) -> str:
    parted = _COMMENT_GAP if line.cells and line.comment else ""
    full = f"{line.text}{parted}{line.comment}"
    return f"{' ' * line.indent}{full}" if full else ""


def _in_runs(
    lines: Iterable[Line],
    kind: Callable[[Line], tuple[str, ...]],
    change: Callable[[list[Line]], list[Line]],
) -> Iterator[Line]:
    """Yield lines, each run of those of one kind and indent changed together."""
    for (key, _), group in groupby(lines, lambda line: (kind(line), line.indent)):
        run = [*group]
        yield from change(run) if key else run


def _in_columns(run: list[Line]) -> list[Line]:
    widths = [[len(line.cells[n].text) for line in run] for n in range(len(run[0].cells) - 1)]
    if any(max(each) - min(each) > _WIDEST_STEP for each in widths):
        return run
    wide = [max(each) for each in widths]
    set_out = [_padded(line, wide) for line in run]
    return run if any(line.width > WIDTH for line in set_out) else set_out


def _padded(line: Line, wide: Sequence[int]) -> Line:
    filled = zip(line.cells, wide, strict=False)
    first = [replace(cell, text=cell.text.ljust(width)) for cell, width in filled]
    return replace(line, cells=(*first, line.cells[-1]))


def _commented(line: Line) -> tuple[str, ...]:
    is_brace = line.text.endswith(("{", "}"))
    return ("commented",) if line.cells and line.comment and not is_brace else ()


def _comments_below(run: list[Line]) -> list[Line]:
    widest = max(line.width for line in run)
    if widest - min(line.width for line in run) > _WIDEST_STEP:
        return run
    return [
        replace(line, cells=(*line.cells, Cell(text=" " * (widest - line.width)))) for line in run
    ]


def without_doubles(lines: Iterable[Line]) -> list[Line]:
    """Return lines without a blank one at either end, or behind another."""
    kept = [Line(), *lines, Line()]
    told = [line for before, line in pairwise(kept) if not (before.is_blank and line.is_blank)]
    return told[:-1] if told and told[-1].is_blank else told
