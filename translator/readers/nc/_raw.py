"""Lines that are kept as they stand: comments, strays and blocks that are not translated."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from translator.conventions.comment import stated_setting
from translator.readers.nc._book import Book
from translator.readers.nc._tree import ROW_CODES, Block, Sheet

_MEANINGS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "SC": "a saw cut that the header cannot say",
        "KA": "a bend line",
        "UE": "a camber",
        "PR": "an own cross-section",
        "TO": "tolerances",
        "ST": "a second start",
    }
)
_CHANGE_SHAPE: Final = ("SC", "KA")
_WARNED: Final = ("UE", "PR", "TO", "ST")


def keep_raw(sheet: Sheet, book: Book, *, strict: bool) -> set[int]:
    """Return the lines of a sheet to be kept, and report their blocks.

    Comments in which a file states its own settings are evidence, not text: they are taken
    as translated.
    """
    kept: set[int] = set()
    for line in sheet.comments:
        if stated_setting(line.text) is not None:
            book.translate(line.number)
        else:
            kept.add(line.number)
    kept |= {line.number for line in sheet.strays}
    for block in sheet.blocks:
        if block.code not in ROW_CODES:
            kept |= {block.at.number, *(row.number for row in block.rows)}
            _say_block(block, book, strict=strict)
    for number in kept:
        book.carry(number)
    return kept


def _say_block(block: Block, book: Book, *, strict: bool) -> None:
    code, line = block.code, block.at.number
    meaning = _MEANINGS.get(code, "")
    if code in _CHANGE_SHAPE:
        text = f"block {code} is {meaning}, which changes the shape and cannot be translated"
        book.refuse("nc-block-shape", text, line)
    elif code in _WARNED:
        text = f"block {code} ({meaning}) is not translated; its lines were kept as they stand"
        book.warn("nc-block-kept", text, line)
    elif meaning == "" and code[0] == "E" and code[1:].isdigit():
        text = f"block {code} (information) was kept as it stands"
        book.note("nc-block-kept", text, line)
    elif strict:
        text = f"block {code} is unknown and may change the piece; refused, as strict is set"
        book.refuse("nc-block-unknown", text, line)
    else:
        text = f"block {code} is unknown; its lines were kept as they stand and not translated"
        book.warn("nc-block-unknown", text, line)
