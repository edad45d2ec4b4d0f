"""A file of part text: what it says for all parts, and its parts."""

from collections.abc import Iterator

from translator.findings import Severity
from translator.lengths.parse import Unit
from translator.model import Placed
from translator.readers._reader import Reading
from translator.readers.part_text._book import SYNTAX, Book
from translator.readers.part_text._families import Shelf, layers_of
from translator.readers.part_text._faulty import FaultyLines, attributed
from translator.readers.part_text._frames import Frame
from translator.readers.part_text._layers import Layers
from translator.readers.part_text._opposites import Drawn, read_opposite
from translator.readers.part_text._parts import TEXTS, Header, Setting, read_part
from translator.readers.part_text._shelves import Shelves
from translator.syntax.language import keyword_of
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Extent, PartText


def lower(tree: PartText) -> Reading:
    """Lower a tree to its parts and all findings, those of the spelling included."""
    book = Book(tree.path, tree.signs)
    for fault, mark in attributed(tree):
        book.mark = mark
        book.say(SYNTAX, fault.message, fault.extent)
    book.mark = ""
    if tree.encoding != "utf-8":
        book.say(
            "encoding-assumed",
            f"The file is not UTF-8: it is read as {tree.encoding.title()}.",
            Extent(1, 1, 1, 1),
            Severity.NOTE,
        )
    book.begin("")
    shelf = Shelves(tree.library, tree.unread).of(tree, book)
    parts = _FileReading(tree, shelf, book).run()
    is_empty = tree.root.node("part") is None and tree.root.node("family") is None
    if is_empty and not any(finding.severity is Severity.ERROR for finding in book.findings):
        # What a command upstream failed to write must not pass for a sound delivery.
        message = "No part and no family stands in this file."
        book.say("file-empty", message, Extent(1, 1, 1, 1))
    return Reading(parts=parts, findings=tuple(book.findings))


class _FileReading:
    """One run over the parts of a file: those that are drawn, then their opposite hands."""

    def __init__(self, tree: PartText, shelf: Shelf, book: Book) -> None:
        self.tree = tree
        self.shelf = shelf
        self.book = book
        self.drawn: dict[str, list[Drawn]] = {}
        self.sound: set[Drawn] = set()

    def run(self) -> tuple[Placed, ...]:
        every = list(_parts(self.tree))
        for one in every:
            self.drawn.setdefault(one.mark, []).append(one)
        found: dict[int, Placed] = {}
        for is_opposite in (False, True):
            for number, one in enumerate(every):
                if (one.opposite is not None) is is_opposite:
                    placed = self._read(one)
                    if placed is not None:
                        found[number] = placed
                        self.sound.add(one)
        return tuple(found[number] for number in sorted(found))

    def _read(self, one: Drawn) -> Placed | None:
        book = self.book
        book.begin(one.mark)
        if one.opposite is not None:
            return read_opposite(one, self.drawn, self.sound, self.shelf, book)
        frame = Frame(path=book.home.path, units=one.header.units)
        book.frame = frame
        layers = layers_of(one.node, frame, self.shelf, book)
        if layers is None:
            return None
        return read_part(
            one.node, Layers(layers=layers), one.header, book, has_faults=one.has_faults
        )


def _parts(tree: PartText) -> Iterator[Drawn]:
    """Yield the parts of a file, each with what the file says before it."""
    faulty = FaultyLines(tree)
    units: Unit | None = None
    settings: dict[str, Setting] = {}
    for node in tree.root.nodes():
        if node.name == "part":
            yield Drawn(
                node=node,
                header=Header(units=units, settings=settings.copy()),
                has_faults=faulty.has_any(node.extent),
            )
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
