"""Tables and counts of a page, as markup."""

from collections.abc import Collection, Sequence

from translator.pages._html import escaped


def table(  # noqa: PLR0913 - what a table is made of
    title: str,
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    numeric: Collection[int] = (),
    code: Collection[int] = (),
    fold: bool = False,
) -> str:
    """Return a table; its texts may hold any character.

    Args:
        title: what it shows.
        head: names of the columns.
        rows: cells, the first of each row names it.
        numeric: columns of figures.
        code: columns of paths and hashes.
        fold: whether it stays closed until somebody opens it.
    """
    kinds = [_kind(column, numeric, code) for column in range(len(head))]
    top = "".join(
        f'<th scope="col"{kind}>{escaped(name)}</th>'
        for name, kind in zip(head, kinds, strict=True)
    )
    body = "".join(f"<tr>{_cells(row, kinds)}</tr>\n" for row in rows)
    inner = f"<thead><tr>{top}</tr></thead>\n<tbody>{body}</tbody></table></div>"
    label = escaped(title)
    box = f'<div class="wide" tabindex="0" role="group" aria-label="{label}">'
    if fold:
        return f"<details><summary>{label}</summary>{box}<table>{inner}</details>\n"
    return f"{box}<table><caption>{label}</caption>{inner}\n"


def _kind(column: int, numeric: Collection[int], code: Collection[int]) -> str:
    if column in numeric:
        return ' class="figure"'
    return ' class="code"' if column in code else ""


def _cells(row: Sequence[str], kinds: Sequence[str]) -> str:
    cells = [f"{escaped(cell)}" for cell in row]
    first = f'<th scope="row"{kinds[0]}>{cells[0]}</th>'
    return first + "".join(
        f"<td{kind}>{cell}</td>" for cell, kind in zip(cells[1:], kinds[1:], strict=True)
    )


def many(number: int, thing: str) -> str:
    """Return a number and what it counts."""
    return f"{number:d} {joined(number, thing)}"


def joined(number: int, thing: str) -> str:
    """Return what is counted, in the plural unless it is one."""
    return thing if number == 1 else f"{thing}s"
