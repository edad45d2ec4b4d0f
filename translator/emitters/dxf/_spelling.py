"""Spell the entities of a drawing in DXF."""

from collections.abc import Iterable
from functools import lru_cache
from types import MappingProxyType
from typing import Final, NamedTuple

from translator.emitters.dxf._entities import (
    Circle,
    Dimension,
    Dot,
    Entity,
    Kind,
    Line,
    Polyline,
    Shape,
    Spot,
    Text,
)
from translator.emitters.dxf._layers import DIMENSION_STYLE, TEXT_STYLE
from translator.emitters.dxf._text import escaped

DECIMALS: Final = 9
"""Decimals of a coordinate: an inch drawing is as sharp as the model's grid of 0.000001 mm."""

BULGE_DECIMALS: Final = 12

_RECORD: Final = (
    "  0\nBLOCK_RECORD\n  5\n{record}\n330\n{table}\n100\nAcDbSymbolTableRecord\n"
    "100\nAcDbBlockTableRecord\n  2\n{name}\n340\n0\n 70\n0\n280\n1\n281\n0\n"
)
_BLOCK: Final = (
    "  0\nBLOCK\n  5\n{handle}\n330\n{record}\n100\nAcDbEntity\n  8\n0\n100\nAcDbBlockBegin\n"
    "  2\n{name}\n 70\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n  3\n{name}\n  1\n\n"
)
_END_BLOCK: Final = (
    "  0\nENDBLK\n  5\n{handle}\n330\n{record}\n100\nAcDbEntity\n  8\n0\n100\nAcDbBlockEnd\n"
)

_PLACES: Final = MappingProxyType(
    {code: f" {code}\n%s\n {code + 10}\n%s\n {code + 20}\n0.0\n" for code in (10, 11, 13, 14)}
)
"""Group codes of a point -> its spelling."""

_ORDINATE: Final = "100\nAcDbOrdinateDimension\n{points}"
_LEVEL: Final = " 50\n0.0\n"
_UPRIGHT: Final = " 50\n90.0\n"
_ROTATED: Final = f"100\nAcDbAlignedDimension\n{{points}}{_LEVEL}100\nAcDbRotatedDimension\n"
_KINDS: Final = MappingProxyType(
    {
        Kind.ORDINATE_X: (6 + 32 + 64 + 128, _ORDINATE),
        Kind.ORDINATE_Y: (6 + 32 + 128, _ORDINATE),
        Kind.LENGTH: (32 + 128, _ROTATED),
        Kind.WIDTH: (32 + 128, _ROTATED.replace(_LEVEL, _UPRIGHT)),
    }
)
"""Flags and the rest of a dimension: 6 ordinate, 32 own block, 64 along x, 128 text placed."""


@lru_cache(maxsize=32768)
def number(value: float, decimals: int = DECIMALS) -> str:
    """Spell a number without an exponent, without trailing zeros and never as -0.0."""
    text = f"{value:.{decimals}f}".rstrip("0")
    if text.endswith("."):
        text += "0"
    return "0.0" if text == "-0.0" else text


class Handles:
    """Handles that count up; each is given once."""

    __slots__ = ("_next",)

    def __init__(self, first: int) -> None:
        """Begin with the first handle."""
        self._next = first

    @property
    def next(self) -> int:
        """The handle that would come next."""
        return self._next

    def take(self) -> str:
        """Return the next handle as the format spells it."""
        self._next += 1
        return f"{self._next - 1:X}"


class Spelled(NamedTuple):
    """A drawing's entities as texts for the three places of the file they go to."""

    records: str
    blocks: str
    entities: str
    dimensions: int


def spelled(
    entities: Iterable[Entity], unit_mm: float, handles: Handles, owners: tuple[str, str]
) -> Spelled:
    """Spell entities, and a block with the picture of each dimension.

    Args:
        entities: what to write, in mm.
        unit_mm: millimetres in one unit of the drawing.
        handles: where handles come from; those of the entities are the first.
        owners: handles of the block record that holds the entities, and of the table of
            block records.
    """
    space, table = owners
    texts: list[str] = []
    pictures: list[Dimension] = []
    for entity in entities:
        if isinstance(entity, Dimension):
            pictures.append(entity)
            texts.append(_dimension(entity, unit_mm, handles.take(), space, len(pictures)))
        else:
            texts.append(_entity(entity, unit_mm, handles.take(), space))
    records: list[str] = []
    blocks: list[str] = []
    for count, dimension in enumerate(pictures, 1):
        record = handles.take()
        records.append(_RECORD.format(record=record, table=table, name=f"*D{count}"))
        begin, end = handles.take(), handles.take()
        blocks.append(_BLOCK.format(handle=begin, record=record, name=f"*D{count}"))
        blocks.extend(_entity(e, unit_mm, handles.take(), record) for e in dimension.picture)
        blocks.append(_END_BLOCK.format(handle=end, record=record))
    return Spelled("".join(records), "".join(blocks), "".join(texts), len(pictures))


def _entity(entity: Shape, unit_mm: float, handle: str, owner: str) -> str:
    kind, groups = _groups(entity, unit_mm)
    return (
        f"  0\n{kind}\n  5\n{handle}\n330\n{owner}\n100\nAcDbEntity\n"
        f"  8\n{entity.layer.name}\n{groups}"
    )


def _dimension(d: Dimension, unit: float, handle: str, owner: str, count: int) -> str:
    """Spell a dimension; its flags say ordinate or linear, x or y, block and text of its own."""
    flags, subclass = _KINDS[d.kind]
    text = "" if d.text is None else escaped(d.text)
    points = f"{_place(13, d.first, unit)}{_place(14, d.second, unit)}"
    return (
        f"  0\nDIMENSION\n  5\n{handle}\n330\n{owner}\n100\nAcDbEntity\n  8\n{d.layer.name}\n"
        f"100\nAcDbDimension\n280\n0\n  2\n*D{count}\n{_place(10, d.origin, unit)}"
        f"{_place(11, d.middle, unit)} 70\n{flags}\n 71\n5\n 42\n{number(d.measure / unit)}\n"
        f"  1\n{text}\n  3\n{DIMENSION_STYLE}\n{subclass.format(points=points)}"
    )


def _groups(entity: Shape, unit: float) -> tuple[str, str]:
    match entity:  # the most frequent kinds first
        case Text():
            return "TEXT", _text(entity, unit)
        case Line():
            scale = "" if entity.pattern == 1.0 else f" 48\n{number(entity.pattern)}\n"
            ends = f"{_place(10, entity.start, unit)}{_place(11, entity.end, unit)}"
            return "LINE", f"{scale}100\nAcDbLine\n{ends}"
        case Circle():
            middle = _place(10, entity.centre, unit)
            return "CIRCLE", f"100\nAcDbCircle\n{middle} 40\n{number(entity.radius / unit)}\n"
        case Polyline():
            return "LWPOLYLINE", _polyline(entity, unit)
        case Dot():
            return "POINT", f"100\nAcDbPoint\n{_place(10, entity.at, unit)}"


def _place(code: int, at: Spot, unit: float) -> str:
    return _PLACES[code] % (number(at.u / unit), number(at.v / unit))


def _polyline(entity: Polyline, unit: float) -> str:
    pieces = [
        f"100\nAcDbPolyline\n 90\n{len(entity.corners)}\n 70\n{int(entity.closed)}\n 43\n0.0\n"
    ]
    for u, v, bulge in entity.corners:
        pieces.append(f" 10\n{number(u / unit)}\n 20\n{number(v / unit)}\n")
        if bulge:
            pieces.append(f" 42\n{number(bulge, BULGE_DECIMALS)}\n")
    return "".join(pieces)


def _text(entity: Text, unit: float) -> str:
    # An aligned text is placed by its second point; the first is then only a hint.
    turn = f" 50\n{number(entity.turn)}\n" if entity.turn else ""
    align = f" 72\n{entity.align}\n{_place(11, entity.at, unit)}" if entity.align else ""
    return (
        f"100\nAcDbText\n{_place(10, entity.at, unit)} 40\n{number(entity.height / unit)}\n"
        f"  1\n{escaped(entity.text)}\n{turn}  7\n{TEXT_STYLE}\n{align}100\nAcDbText\n"
    )
