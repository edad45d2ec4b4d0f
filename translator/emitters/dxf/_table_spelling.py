"""Spell a table in DXF: most of the entities of a drawing, so what they share is spelled once."""

from collections.abc import Iterator
from typing import Final

from translator.emitters.dxf._layers import TEXT_STYLE, TITLE_BLOCK
from translator.emitters.dxf._numbers import Numbers
from translator.emitters.dxf._table import Band, Ruled
from translator.emitters.dxf._text import escaped

_TEXT_END: Final = f"\n  7\n{TEXT_STYLE}\n100\nAcDbText\n"


def spelled_table(table: Ruled, spell: Numbers, names: Iterator[str], owner: str) -> str:
    """Spell the rules and words of a table, the same as each of its entities would be.

    Args:
        table: the table, in mm.
        spell: spells lengths in the drawing's unit.
        names: handles; as many are taken as there are rules and lines of words.
        owner: what stands between the handle of an entity and the name of its layer.
    """
    left, top = spell[table.around.left], spell[table.around.top]
    begin = "  0\nLINE\n  5\n"
    rule = f"{owner}{TITLE_BLOCK.name}\n100\nAcDbLine\n 10\n"
    level = f"\n 30\n0.0\n 11\n{spell[table.around.right]}\n 21\n"
    pieces = [f"{begin}{next(names)}{rule}{left}\n 20\n{top}{level}{top}\n 31\n0.0\n"]
    known: tuple[float, ...] = ()
    edges: list[str] = []
    columns: list[str] = []
    for band in table.bands:
        if band.edges is not known:
            known = band.edges
            edges = [spell[u] for u in band.edges]
            columns = [f"\n100\nAcDbText\n 10\n{spell[u]}\n 20\n" for u in band.columns]
        pieces += _words(band, columns, spell, names, owner)
        bottom = spell[band.bottom]
        upper, lower = f"\n 20\n{top}\n 30\n0.0\n 11\n", f"\n 21\n{bottom}\n 31\n0.0\n"
        for u, handle in zip(edges, names, strict=False):
            pieces.append(f"{begin}{handle}{rule}{u}{upper}{u}{lower}")
        pieces.append(f"{begin}{next(names)}{rule}{left}\n 20\n{bottom}{level}{bottom}\n 31\n0.0\n")
        top = bottom
    return "".join(pieces)


def _words(
    band: Band, columns: list[str], spell: Numbers, names: Iterator[str], owner: str
) -> list[str]:
    """Spell the words of a band, of which ``columns`` says where they begin along."""
    levels = [f"{spell[v]}\n 30\n0.0\n 40\n{spell[h]}\n  1\n" for v, h in band.levels]
    return [
        f"  0\nTEXT\n  5\n{handle}{owner}{layer.name}{columns[column]}{levels[level]}"
        f"{escaped(text)}{_TEXT_END}"
        for (layer, text, column, level), handle in zip(band.words, names, strict=False)
    ]
