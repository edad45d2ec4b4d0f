"""A file of part text: what it says for all parts, and its parts."""

from bisect import bisect_left
from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.lengths.parse import Unit
from translator.model import Placed
from translator.readers._reader import Reading
from translator.readers.part_text._book import SYNTAX, Book
from translator.readers.part_text._parts import TEXTS, Header, Setting, read_part
from translator.syntax.language import keyword_of
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Extent, Node, PartText

NOT_READ: Final = "families-not-read"
"""Rule of what the language has and this version does not read."""


def lower(tree: PartText) -> Reading:
    """Lower a tree to its parts and all findings, those of the spelling included."""
    book = Book(tree.path, tree.signs)
    for fault in tree.faults:
        book.say(SYNTAX, fault.message, fault.extent)
    if tree.encoding != "utf-8":
        book.say(
            "encoding-assumed",
            f"The file is not UTF-8: it is read as {tree.encoding.title()}.",
            Extent(1, 1, 1, 1),
            Severity.NOTE,
        )
    parts = tuple(_parts(tree, book))
    return Reading(parts=parts, findings=tuple(book.findings))


def _parts(tree: PartText, book: Book) -> Iterator[Placed]:
    faulty = _FaultyLines(tree)
    units: Unit | None = None
    settings: dict[str, Setting] = {}
    for node in tree.root.nodes():
        book.begin("")
        if node.name == "part":
            header = Header(units=units, settings=settings.copy())
            placed = _part(node, header, book, has_faults=faulty.has_any(node.extent))
            if placed is not None:
                yield placed
        elif node.name == "units" or node.name in TEXTS:
            is_sound = not faulty.has_any(node.extent)
            said = node.last_word
            value = unquoted(said.text) if is_sound else None
            settings[node.name] = Setting(value=value, extent=node.extent)
            if node.name == "units":
                units = "inch" if said.type == "INCH" else "mm"
        elif node.name == "broken":
            kind = keyword_of(node.last_word.text).lower()
            if kind == "units" or kind in TEXTS:
                settings[kind] = Setting(value=None, extent=node.extent)
        else:
            book.say(
                NOT_READ, f"`{node.name}`: families are not read by this version.", node.extent
            )


def _part(node: Node, header: Header, book: Book, *, has_faults: bool) -> Placed | None:
    mark = node.node("mark")
    book.begin("" if mark is None else unquoted(mark.last_word.text))
    for name in ("call", "opposite"):
        used = node.node(name)
        if used is not None:
            what = "families are" if name == "call" else "`opposite` is"
            book.say(
                NOT_READ, f"{what[0].upper()}{what[1:]} not read by this version.", used.extent
            )
            return None
    return read_part(node, header, book, has_faults=has_faults)


class _FaultyLines:
    """Answers whether a fault of the spelling lies within a stretch of the file."""

    def __init__(self, tree: PartText) -> None:
        self._places = [fault.extent[:2] for fault in tree.faults]

    def has_any(self, extent: Extent) -> bool:
        first = bisect_left(self._places, extent[:2])
        return first < len(self._places) and self._places[first] <= extent[2:]
