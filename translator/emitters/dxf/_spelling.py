"""Spell the entities of a drawing in DXF."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, Final, NamedTuple

from translator.emitters.dxf._entities import (
    Circle,
    Dimension,
    Dot,
    Entity,
    Kind,
    Line,
    Polyline,
    Shape,
    Text,
)
from translator.emitters.dxf._layers import DIMENSION_STYLE, TEXT_STYLE
from translator.emitters.dxf._numbers import Numbers, number, numbers
from translator.emitters.dxf._table import Ruled
from translator.emitters.dxf._table_spelling import spelled_table
from translator.emitters.dxf._text import escaped

__all__ = ["BULGE_DECIMALS", "Spelled", "number", "spelled"]

BULGE_DECIMALS: Final = 12

_ORDINATE: Final = "100\nAcDbOrdinateDimension\n"
_ALIGNED: Final = "100\nAcDbAlignedDimension\n"
_ROTATED: Final = "100\nAcDbRotatedDimension\n"
_KINDS: Final = MappingProxyType(
    {
        Kind.ORDINATE_X: (6 + 32 + 64 + 128, _ORDINATE, ""),
        Kind.ORDINATE_Y: (6 + 32 + 128, _ORDINATE, ""),
        Kind.LENGTH: (32 + 128, _ALIGNED, f" 50\n0.0\n{_ROTATED}"),
        Kind.WIDTH: (32 + 128, _ALIGNED, f" 50\n90.0\n{_ROTATED}"),
    }
)
"""Flags of a dimension, and what stands before and behind its points.

6 ordinate, 32 own block, 64 along x, 128 text placed.
"""


class Spelled(NamedTuple):
    """A drawing's entities as texts for the three places of the file they go to."""

    records: str
    blocks: str
    entities: str
    dimensions: int


def spelled(
    entities: Iterable[Entity],
    unit_mm: float,
    names: Iterator[str],
    owners: tuple[str, str],
    table: Ruled | None = None,
) -> Spelled:
    """Spell entities, and a block with the picture of each dimension.

    Args:
        entities: what to write, in mm.
        unit_mm: millimetres in one unit of the drawing.
        names: handles; those of the entities are the first.
        owners: handles of the block record that holds the entities, and of the table of
            block records.
        table: what comes behind the entities.
    """
    space = _owned_by(owners[0])
    spell = numbers(unit_mm)
    spellers = _SPELLERS
    texts: list[str] = []
    pictures: list[Dimension] = []
    for entity, handle in zip(entities, names, strict=False):
        if isinstance(entity, Dimension):
            pictures.append(entity)
            texts.append(_dimension(entity, spell, handle, space, len(pictures)))
        else:
            texts.append(spellers[type(entity)](entity, spell, handle, space))
    if table is not None:
        texts.append(spelled_table(table, spell, names, space))
    records, blocks = _pictures(pictures, spell, names, owners[1])
    return Spelled(records, blocks, "".join(texts), len(pictures))


def _pictures(
    dimensions: Iterable[Dimension], spell: Numbers, names: Iterator[str], table: str
) -> tuple[str, str]:
    """Spell the records and the blocks of dimensions, with their pictures."""
    records: list[str] = []
    blocks: list[str] = []
    for index, dimension in enumerate(dimensions, 1):
        record, begin, end = next(names), next(names), next(names)
        records.append(
            f"  0\nBLOCK_RECORD\n  5\n{record}\n330\n{table}\n100\nAcDbSymbolTableRecord\n"
            f"100\nAcDbBlockTableRecord\n  2\n*D{index}\n340\n0\n 70\n0\n280\n1\n281\n0\n"
        )
        own = _owned_by(record)
        blocks.append(
            f"  0\nBLOCK\n  5\n{begin}{own}0\n100\nAcDbBlockBegin\n  2\n*D{index}\n 70\n1\n"
            f" 10\n0.0\n 20\n0.0\n 30\n0.0\n  3\n*D{index}\n  1\n\n"
        )
        for shape, handle in zip(dimension.picture, names, strict=False):
            blocks.append(_SPELLERS[type(shape)](shape, spell, handle, own))
        blocks.append(f"  0\nENDBLK\n  5\n{end}{own}0\n100\nAcDbBlockEnd\n")
    return "".join(records), "".join(blocks)


def _owned_by(record: str) -> str:
    """Return what stands between the handle of an entity and the name of its layer."""
    return f"\n330\n{record}\n100\nAcDbEntity\n  8\n"


def _dimension(d: Dimension, n: Numbers, handle: str, owner: str, index: int) -> str:
    """Spell a dimension; its flags say ordinate or linear, x or y, block and text of its own."""
    flags, before, behind = _KINDS[d.kind]
    text = "" if d.text is None else escaped(d.text)
    (u, v), (s, t) = d.origin, d.middle
    (u1, v1), (u2, v2) = d.first, d.second
    # Points of a dimension lie above or beside one another; to compare is far quicker.
    left, low, u_first, v_first = n[u], n[v], n[u1], n[v1]
    u_second, v_second = u_first if u2 == u1 else n[u2], v_first if v2 == v1 else n[v2]
    across = u_second if s == u2 else n[s]
    up = v_second if t == v2 else n[t]
    measure = u_first if d.measure == u1 else n[d.measure]
    return (
        f"  0\nDIMENSION\n  5\n{handle}{owner}{d.layer.name}\n"
        f"100\nAcDbDimension\n280\n0\n  2\n*D{index}\n 10\n{left}\n 20\n{low}\n 30\n0.0\n"
        f" 11\n{across}\n 21\n{up}\n 31\n0.0\n 70\n{flags}\n 71\n5\n 42\n{measure}\n"
        f"  1\n{text}\n  3\n{DIMENSION_STYLE}\n{before} 13\n{u_first}\n 23\n{v_first}\n 33\n0.0\n"
        f" 14\n{u_second}\n 24\n{v_second}\n 34\n0.0\n{behind}"
    )


def _line(line: Line, n: Numbers, handle: str, owner: str) -> str:
    layer, (u, v), (s, t), pattern = line
    scale = "" if pattern == 1.0 else f" 48\n{number(pattern)}\n"
    # Most lines are level or upright; to compare is far quicker than to look up.
    left, low = n[u], n[v]
    right, high = left if s == u else n[s], low if t == v else n[t]
    return (
        f"  0\nLINE\n  5\n{handle}{owner}{layer.name}\n{scale}"
        f"100\nAcDbLine\n 10\n{left}\n 20\n{low}\n 30\n0.0\n 11\n{right}\n 21\n{high}\n 31\n0.0\n"
    )


def _circle(circle: Circle, n: Numbers, handle: str, owner: str) -> str:
    u, v = circle.centre
    return (
        f"  0\nCIRCLE\n  5\n{handle}{owner}{circle.layer.name}\n"
        f"100\nAcDbCircle\n 10\n{n[u]}\n 20\n{n[v]}\n 30\n0.0\n 40\n{n[circle.radius]}\n"
    )


def _dot(dot: Dot, n: Numbers, handle: str, owner: str) -> str:
    u, v = dot.at
    return (
        f"  0\nPOINT\n  5\n{handle}{owner}{dot.layer.name}\n"
        f"100\nAcDbPoint\n 10\n{n[u]}\n 20\n{n[v]}\n 30\n0.0\n"
    )


def _polyline(line: Polyline, n: Numbers, handle: str, owner: str) -> str:
    head = (
        f"  0\nLWPOLYLINE\n  5\n{handle}{owner}{line.layer.name}\n"
        f"100\nAcDbPolyline\n 90\n{len(line.corners)}\n 70\n{int(line.closed)}\n 43\n0.0\n"
    )
    pieces = [head]
    before_u, before_v, across, up = 0.0, 0.0, "0.0", "0.0"
    for u, v, bulge in line.corners:
        if u != before_u:
            before_u, across = u, n[u]
        if v != before_v:
            before_v, up = v, n[v]
        bent = f" 42\n{number(bulge, BULGE_DECIMALS)}\n" if bulge else ""
        pieces.append(f" 10\n{across}\n 20\n{up}\n{bent}")
    return "".join(pieces)


def _text(text: Text, n: Numbers, handle: str, owner: str) -> str:
    layer, words, (u, v), height, angle, side = text
    left, up = n[u], n[v]
    if not angle and not side:  # most are so
        return (
            f"  0\nTEXT\n  5\n{handle}{owner}{layer.name}\n"
            f"100\nAcDbText\n 10\n{left}\n 20\n{up}\n 30\n0.0\n 40\n{n[height]}\n"
            f"  1\n{escaped(words)}\n  7\n{TEXT_STYLE}\n100\nAcDbText\n"
        )
    # An aligned text is placed by its second point; the first is then only a hint.
    turn = f" 50\n{number(angle)}\n" if angle else ""
    align = f" 72\n{side}\n 11\n{left}\n 21\n{up}\n 31\n0.0\n" if side else ""
    return (
        f"  0\nTEXT\n  5\n{handle}{owner}{layer.name}\n"
        f"100\nAcDbText\n 10\n{left}\n 20\n{up}\n 30\n0.0\n 40\n{n[height]}\n"
        f"  1\n{escaped(words)}\n{turn}  7\n{TEXT_STYLE}\n{align}100\nAcDbText\n"
    )


_SPELLERS: Final[Mapping[type[Shape], Callable[[Any, Numbers, str, str], str]]] = {
    Text: _text,
    Line: _line,
    Circle: _circle,
    Polyline: _polyline,
    Dot: _dot,
}
"""What spells a kind of entity, given its handle and that of the record that owns it."""
