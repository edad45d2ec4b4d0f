"""Spell a table in DXF: most of the entities of a drawing, so what they share is spelled once."""

from collections.abc import Iterator

from translator.emitters.dxf._layers import TEXT_STYLE, TITLE_BLOCK
from translator.emitters.dxf._numbers import Numbers
from translator.emitters.dxf._table import Ruled
from translator.emitters.dxf._text import escaped


def spelled_table(table: Ruled, spell: Numbers, names: Iterator[str], owner: str) -> str:
    """Spell the rules and words of a table, the same as each of its entities would be.

    Args:
        table: the table, in mm.
        spell: spells lengths in the drawing's unit.
        names: handles; as many are taken as there are rules and lines of words.
        owner: what stands between the handle of an entity and the name of its layer.
    """
    left, top = spell[table.around.left], spell[table.around.top]
    rule = f"{owner}{TITLE_BLOCK.name}\n100\nAcDbLine\n 10\n"
    level = f"\n 30\n0.0\n 11\n{spell[table.around.right]}\n 21\n"
    begin, end = "  0\nTEXT\n  5\n", f"\n  7\n{TEXT_STYLE}\n100\nAcDbText\n"
    pieces = [
        f"  0\nLINE\n  5\n{next(names)}{rule}{left}\n 20\n{top}{level}{top}\n 31\n0.0\n",
    ]
    for edges, _, low, words in table.bands:
        for (layer, text, u, v, height), handle in zip(words, names, strict=False):
            pieces.append(
                f"{begin}{handle}{owner}{layer.name}\n100\nAcDbText\n 10\n{spell[u]}\n 20\n"
                f"{spell[v]}\n 30\n0.0\n 40\n{spell[height]}\n  1\n{escaped(text)}{end}"
            )
        bottom = spell[low]
        upper, lower = f"\n 20\n{top}\n 30\n0.0\n 11\n", f"\n 21\n{bottom}\n 31\n0.0\n"
        for edge, handle in zip(edges, names, strict=False):
            u_text = spell[edge]
            pieces.append(f"  0\nLINE\n  5\n{handle}{rule}{u_text}{upper}{u_text}{lower}")
        pieces.append(
            f"  0\nLINE\n  5\n{next(names)}{rule}{left}\n 20\n{bottom}{level}{bottom}\n 31\n0.0\n"
        )
        top = bottom
    return "".join(pieces)
