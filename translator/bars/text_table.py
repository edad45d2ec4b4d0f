"""Tables in text, for a terminal: columns as wide as they must be, never wider than the page."""

from collections.abc import Collection, Iterator, Sequence
from typing import Final

from translator.source import printable

MOST_COLUMNS: Final = 100
"""Columns of a line that a report may have."""

_GAP: Final = "  "
_LEAST: Final = 6


def table(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    numbers: Collection[int] = (),
    indent: int = 2,
    most: int = MOST_COLUMNS,
) -> Iterator[str]:
    """Yield the lines of a table; texts of any length are cut off with ``~`` to fit.

    Args:
        head: names of the columns; all empty for a table without a head.
        rows: cells, as many as the head has; they may hold any character.
        numbers: columns that are set to the right.
        indent: blanks before each line.
        most: columns of a line.
    """
    named = [[*head]] if any(head) else []
    cells = [[printable(cell) for cell in row] for row in (*named, *rows)]
    if not cells:
        return
    widths = [max(len(row[i]) for row in cells) for i in range(len(head))]
    room = most - indent - len(_GAP) * (len(head) - 1)
    while sum(widths) > room and max(widths) > _LEAST:
        widths[widths.index(max(widths))] -= 1
    for row in cells:
        line = _GAP.join(
            _fitted(cell, width).rjust(width) if i in numbers else _fitted(cell, width).ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        yield f"{' ' * indent}{line}".rstrip()


def _fitted(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 1]}~"
