"""Tables of printed lists, as markup."""

from collections.abc import Collection, Sequence
from typing import Final

from translator.pages._html import escaped

_MOST_SHORT: Final = 14
_SHORT: Final = ' class="short"'
"""A cell of few letters, like a grade, is never broken."""


def rows_table(  # noqa: PLR0913 - what a table is made of
    title: str,
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    numeric: Collection[int] = (),
    blank: Collection[int] = (),
    has_title: bool = True,
) -> str:
    """Return a table whose head is printed again on every sheet; texts may hold any character.

    Args:
        title: what it shows.
        head: names of the columns.
        rows: cells, the first of each row names it.
        numeric: columns of figures.
        blank: columns to write in.
        has_title: whether the title is seen; it is read aloud in any case.
    """
    kinds = [_kind(column, numeric, blank) for column in range(len(head))]
    top = "".join(
        f'<th scope="col"{kind}>{escaped(name)}</th>'
        for name, kind in zip(head, kinds, strict=True)
    )
    body = "".join(f"<tr>{_cells(row, kinds)}</tr>\n" for row in rows)
    unseen = "" if has_title else ' class="unseen"'
    return (
        f'<table class="rows"><caption{unseen}>{escaped(title)}</caption>'
        f"<thead><tr>{top}</tr></thead>\n<tbody>{body}</tbody></table>\n"
    )


def _kind(column: int, numeric: Collection[int], blank: Collection[int]) -> str:
    if column in numeric:
        return ' class="figure"'
    return ' class="blank"' if column in blank else ""


def _cells(row: Sequence[str], kinds: Sequence[str]) -> str:
    cells = [f"<bdi>{escaped(cell)}</bdi>" if cell else "" for cell in row]
    own = [
        kind or (_SHORT if len(cell) <= _MOST_SHORT else "")
        for kind, cell in zip(kinds, row, strict=True)
    ]
    first = f'<th scope="row"{own[0]}>{cells[0]}</th>'
    return first + "".join(
        f"<td{kind}>{cell}</td>" for cell, kind in zip(cells[1:], own[1:], strict=True)
    )
