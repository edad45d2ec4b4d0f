"""The fixed part of a drawing: read once, cut at the places that change from leg to leg."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Final

from msgspec import Struct

from translator.emitters.dxf._layers import DIMENSION_STYLE
from translator.errors import RoomError

TEMPLATE: Final = Path(__file__).with_name("template.dxf")
"""Made by ``_make_template.py``, and a valid empty drawing itself."""

FIRST_HANDLE: Final = 0x1000
"""Handles of a leg's own entities count up from here; all handles of the template are below."""

ENTITIES: Final = "entities"
"""Slot for the text of all entities."""

RECORDS: Final = "records"
"""Slot for the block records of dimensions."""

BLOCKS: Final = "blocks"
"""Slot for the blocks of dimensions."""

_INSERTED: Final = frozenset({ENTITIES, RECORDS, BLOCKS})
"""Slots that come in between two lines; any other takes the place of a value."""

_VARIABLES: Final = (
    ("$HANDSEED", (("5", "next_handle"),)),
    ("$EXTMIN", (("10", "left"), ("20", "bottom"))),
    ("$EXTMAX", (("10", "right"), ("20", "top"))),
    ("$LIMMIN", (("10", "left"), ("20", "bottom"))),
    ("$LIMMAX", (("10", "right"), ("20", "top"))),
    ("$LTSCALE", (("40", "line_scale"),)),
    ("$INSUNITS", (("70", "insert_units"),)),
    ("$MEASUREMENT", (("70", "measurement"),)),
    ("$LUNITS", (("70", "length_format"),)),
    ("$LUPREC", (("70", "length_precision"),)),
)
"""Header variable, and the slot for each group code of its value."""

_STYLE: Final = (
    ("40", "dimension_scale"),
    ("78", "dimension_zeros"),
    ("271", "dimension_precision"),
    ("277", "dimension_format"),
)
"""Slots of the style of every dimension."""

_VIEW: Final = (("12", "middle_x"), ("22", "middle_y"), ("40", "view_height"))
"""Slots of the view that a drawing opens with."""


class Template(Struct, frozen=True, kw_only=True):
    """The template, cut into fixed texts with a named slot between each two.

    Attributes:
        owners: handles of the block record that owns the entities, and of the table of
            block records.
        texts: the fixed texts, one more than there are slots.
        slots: name of each slot, in order; a name may come twice.
    """

    owners: tuple[str, str]
    texts: tuple[str, ...]
    slots: tuple[str, ...]

    def filled(self, values: Mapping[str, str]) -> str:
        """Return the whole drawing. ``values`` has one value for each name in ``slots``."""
        pieces = [self.texts[0]]
        for slot, text in zip(self.slots, self.texts[1:], strict=True):
            pieces.append(values[slot])
            pieces.append(text)
        return "".join(pieces)


@cache
def template() -> Template:
    """Read and cut the template that ships with this package.

    Raises:
        RoomError: when the file lacks one of the places that must change (a broken
            installation, or a template made by another version).
    """
    lines = TEMPLATE.read_text(encoding="utf-8").split("\n")
    cuts = _header_cuts(lines) | _view_cuts(lines) | _style_cuts(lines) | _block_cuts(lines)
    cuts[_behind(lines, ("2", "ENTITIES"))] = ENTITIES
    texts, slots, last = [], [], 0
    for at in sorted(cuts):
        slots.append(cuts[at])
        texts.append("".join(f"{line}\n" for line in lines[last:at]))
        if cuts[at] not in _INSERTED:
            lines[at] = ""
        last = at
    texts.append("\n".join(lines[last:]))
    return Template(
        owners=_owners(lines),
        texts=tuple(texts),
        slots=tuple(slots),
    )


def _behind(lines: list[str], pair: tuple[str, str], start: int = 0) -> int:
    """Return the index of the line behind the first such pair of group code and value."""
    for i in range(start - start % 2, len(lines) - 1, 2):
        if (lines[i].strip(), lines[i + 1]) == pair:
            return i + 2
    raise RoomError(f"{TEMPLATE.name} has no {pair[1]}")


def _value(lines: list[str], code: str, start: int) -> int:
    """Return the index of the first value of a group code from a line on."""
    for i in range(start, len(lines) - 1, 2):
        if lines[i].strip() == code:
            return i + 1
    raise RoomError(f"{TEMPLATE.name} has no group code {code} behind line {start}")


def _header_cuts(lines: list[str]) -> dict[int, str]:
    cuts = {}
    for variable, slots in _VARIABLES:
        start = _behind(lines, ("9", variable))
        for code, slot in slots:
            cuts[_value(lines, code, start)] = slot
    return cuts


def _view_cuts(lines: list[str]) -> dict[int, str]:
    start = _behind(lines, ("2", "*Active"))
    return {_value(lines, code, start): slot for code, slot in _VIEW}


def _style_cuts(lines: list[str]) -> dict[int, str]:
    start = _behind(lines, ("2", DIMENSION_STYLE), _behind(lines, ("2", "DIMSTYLE")))
    return {_value(lines, code, start): slot for code, slot in _STYLE}


def _block_cuts(lines: list[str]) -> dict[int, str]:
    """Return the end of the table of block records, its count, and the end of the blocks."""
    table = _behind(lines, ("2", "BLOCK_RECORD"))
    blocks = _behind(lines, ("2", "BLOCKS"))
    return {
        _value(lines, "70", table): "record_count",
        _behind(lines, ("0", "ENDTAB"), table) - 2: RECORDS,
        _behind(lines, ("0", "ENDSEC"), blocks) - 2: BLOCKS,
    }


def _owners(lines: list[str]) -> tuple[str, str]:
    """Return the handles of the record of the model space and of the table of records."""
    table = _behind(lines, ("2", "BLOCK_RECORD"))
    name = _behind(lines, ("2", "*Model_Space"), table)
    start = max(i for i in range(table, name, 2) if lines[i + 1] == "BLOCK_RECORD")
    return lines[_value(lines, "5", start)], lines[_value(lines, "5", table)]
