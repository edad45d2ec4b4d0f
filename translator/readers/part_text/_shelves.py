"""The families a file declares and brings, each looked through before anything calls it."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Final

from translator.findings import Related, Severity
from translator.lengths.parse import Unit
from translator.readers.part_text._book import Book, near
from translator.readers.part_text._families import (
    DEEPEST,
    Family,
    Shelf,
    arguments,
    behind_equals,
    extent_of,
    unknown_family,
    weight_of,
)
from translator.readers.part_text._faulty import FaultyLines
from translator.readers.part_text._frames import Frame, Spot
from translator.source import Span
from translator.syntax.language import keyword_of
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Child, Extent, Node, PartText, Word
from translator.syntax.uses import UseError, used_path

_MOST_FILES: Final = 50
"""So many files may use one another, each counted once."""


class Shelves:
    """Puts the shelf of each file up once, and says what is wrong with it."""

    def __init__(self, library: Mapping[str, PartText], unread: Mapping[str, str]) -> None:
        self._library = library
        self._unread = unread
        self._done: dict[str, Shelf] = {}
        self._faults: dict[str, tuple[Span, int] | None] = {}

    def of(self, tree: PartText, book: Book, chain: Sequence[str] = ()) -> Shelf:
        """Return the shelf of a file.

        Args:
            tree: the file.
            book: takes the findings about it.
            chain: the files that use it, the first one first.
        """
        shelf = Shelf()
        faulty = FaultyLines(tree)
        units: Unit | None = None
        guessed: Extent | None = None
        for node in tree.root.nodes("units", "family", "use", "broken"):
            if node.name == "units":
                units = "inch" if node.last_word.type == "INCH" else "mm"
                guessed = faulty.first(node.extent)
            elif node.name == "broken":
                is_units = keyword_of(node.last_word.text) == "UNITS"
                guessed = node.extent if is_units else guessed
            elif node.name == "family":
                fault = faulty.first(node.extent) or guessed
                self._declare(node, Frame(path=tree.path, units=units), shelf, book, fault)
            elif not faulty.has_any(node.extent):
                self._use(node, shelf, book, (*chain, tree.path))
        for family in shelf.own.values():
            _look_through(family, book)
        _spread(shelf, book)
        return shelf

    def _declare(
        self, node: Node, frame: Frame, shelf: Shelf, book: Book, fault: Extent | None
    ) -> None:
        word = node.its("NAME")
        family = Family(name=word.text, node=node, frame=frame, shelf=shelf, weight=weight_of(node))
        other = shelf.find(word.text)
        if other is not None:
            _twice(other, word.extent, book)
            shelf.unsound.setdefault(word.text, word.extent)
        if fault is not None:
            shelf.unsound.setdefault(word.text, fault)
        shelf.own.setdefault(word.text, family)

    def _use(self, node: Node, shelf: Shelf, book: Book, chain: Sequence[str]) -> None:
        word = node.its("STRING")
        try:
            path = used_path(chain[-1], unquoted(word.text))
        except UseError as refusal:
            book.say("use-refused", str(refusal), word.extent)
            return
        tree = self._library.get(path)
        if path in chain:
            ring = " uses ".join((*chain[chain.index(path) :], path))
            book.say("use-in-a-ring", f"These files use each other: {ring}.", word.extent)
        elif tree is None:
            why = self._unread.get(path, "this input stands alone, and knows no other file")
            book.say("use-refused", f"{unquoted(word.text)} is not read: {why}.", word.extent)
        elif path not in self._done and len(self._done) >= _MOST_FILES:
            message = f"This is one more than the {_MOST_FILES} files that may be used at once."
            book.say("use-refused", message, word.extent)
        else:
            self._bring(tree, word, shelf, book, chain)

    def _bring(
        self, tree: PartText, word: Word, shelf: Shelf, book: Book, chain: Sequence[str]
    ) -> None:
        if tree.path not in self._done:
            self._done[tree.path] = Shelf()
            aside = Book(tree.path, tree.signs)
            self._done[tree.path] = self.of(tree, aside, chain)
            spans = [fault.extent.span(tree.path) for fault in tree.faults]
            spans += [f.span for f in aside.findings if f.severity is Severity.ERROR]
            self._faults[tree.path] = (min(spans), len(spans)) if spans else None
        fault = self._faults.get(tree.path)
        if fault is not None:
            span, number = fault
            faults = "a fault" if number == 1 else f"{number} faults"
            message = f"{unquoted(word.text)} has {faults}, the first at line {span.line}."
            spot = Spot(book.frame.spot(word.extent).span, (Related(span=span, message="there"),))
            book.say_at("use-has-faults", message, spot, Severity.WARNING)
        for name, family in self._done[tree.path].own.items():
            other = shelf.find(name)
            if other is not None and other is not family:
                _twice(other, word.extent, book)
            else:
                shelf.brought[name] = family


def _twice(other: Family, extent: Extent, book: Book) -> None:
    message = f"There are two families {other.name}: give one of them another name."
    book.say_at("given-twice", message, Spot(book.frame.spot(extent).span, (other.head,)))


def _look_through(family: Family, book: Book) -> None:
    """Note what is wrong with a family whatever it is called with."""
    names: set[str] = set()
    for name, node, default in family.parameters():
        if name in names:
            message = f"The parameter {name} of the family {family.name} stands twice."
            _mar(family, "given-twice", message, node.extent, book)
        if default is not None:
            _known(family, default, names, book)
        names.add(name)
    for child in family.node.children:
        if isinstance(child, Node) and child.name not in ("parameter", "call"):
            _known(family, child, names, book)
    call = family.node.node("call")
    if call is not None:
        _look_through_call(call, family, names, book)


def _look_through_call(call: Node, family: Family, names: set[str], book: Book) -> None:
    shelf = family.shelf
    for argument in call.nodes("argument"):
        value = behind_equals(argument)
        if value is not None:
            _known(family, value, names, book)
    base = shelf.find(call.its("NAME").text)
    errors = book.errors
    if base is None:
        unknown_family(call, shelf, book)
    else:
        arguments(call, base, book)
    if book.errors > errors:
        shelf.unsound.setdefault(family.name, extent_of(call))


def _known(family: Family, value: Child, names: set[str], book: Book) -> None:
    """Note the names in a value that stand for nothing."""
    for word in _names_in(value):
        if word.text not in names:
            message = (
                f"`{word.text}` stands for nothing here: before this, the family {family.name} has"
                f" no parameter of that name{near(word.text, names)}"
            )
            _mar(family, "name-unknown", message, word.extent, book)


def _names_in(value: Child) -> Iterator[Word]:
    left = [value]
    while left:
        child = left.pop()
        if isinstance(child, Node):
            left += reversed(child.children)
        elif child.type == "NAME":
            yield child


def _mar(family: Family, rule: str, message: str, extent: Extent, book: Book) -> None:
    book.say(rule, message, extent)
    family.shelf.unsound.setdefault(family.name, extent)


def _spread(shelf: Shelf, book: Book) -> None:
    """Mar the families that build on each other in a ring, too deeply, or on a marred one."""
    depths: dict[Family, int] = {}
    for family in shelf.own.values():
        line: dict[Family, int] = {}
        above: Family | None = family
        while above is not None and above not in depths and above not in line:
            line[above] = len(line)
            above = _base(above)
        if above is not None and above in line:
            _ring([*line][line[above] :], book)
        depth = depths.get(above, 0) if above is not None else 0
        for below in reversed(line):
            depth += 1
            depths[below] = depth
            base, own = _base(below), below.shelf
            if depth > DEEPEST and below.name not in own.unsound:
                call = below.node.its("NAME")
                message = f"The family {below.name} builds on more than {DEEPEST - 1} others."
                _mar(below, "families-too-deep", message, call.extent, book)
            if base is not None and base.name in base.shelf.unsound:
                own.unsound.setdefault(below.name, below.node.its("NAME").extent)


def _ring(ring: Sequence[Family], book: Book) -> None:
    names = " on ".join(family.name for family in (*ring, ring[0]))
    for number, family in enumerate(ring):
        call = family.node.node("call")
        extent = family.node.its("NAME").extent if call is None else extent_of(call)
        others = (ring[(number + step) % len(ring)] for step in range(1, len(ring)))
        heads = tuple(other.head for other in islice(others, DEEPEST))
        message = f"These families build on each other in a ring: {names[:_LONGEST_RING]}."
        book.say_at("family-in-a-ring", message, Spot(book.frame.spot(extent).span, heads))
        family.shelf.unsound.setdefault(family.name, extent)


_LONGEST_RING: Final = 200


def _base(family: Family) -> Family | None:
    call = family.node.node("call")
    return None if call is None else family.shelf.find(call.its("NAME").text)
