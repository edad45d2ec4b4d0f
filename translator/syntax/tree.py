"""The tree of a part-text file: what was written, in order, with every word's place.

The tree keeps the spelling of each word and all comments, so that it can be printed again;
what the words *mean* is settled later, when it is lowered to parts.
"""

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

from msgspec import Struct, field

from translator.source import Span

_LINE_END: Final = re.compile(r"\r\n|\r|\n")


class Extent(NamedTuple):
    """A place in a text: lines and columns count from 1, ``end_column`` is the one behind."""

    line: int
    column: int
    end_line: int
    end_column: int

    def span(self, path: str) -> Span:
        """Return the place as findings give it."""
        return Span(path, *self)

    def contains(self, other: "Extent") -> bool:
        """Tell whether another extent lies within this one."""
        return self[:2] <= other[:2] and other[2:] <= self[2:]


class Word(NamedTuple):
    """One word as written.

    Attributes:
        type: its terminal in the grammar: "GAUGE" for any spelling of gauge, "NUMBER", "STRING".
        text: its spelling, quotes included.
        line: where it begins.
        column: where it begins.
    """

    type: str
    text: str
    line: int
    column: int

    @property
    def extent(self) -> Extent:
        """The place of the word; only the text of a BROKEN one runs over several lines."""
        lines = _LINE_END.split(self.text) if self.type == "BROKEN" else [self.text]
        begin = self.column if len(lines) == 1 else 1
        end = begin + len(lines[-1])
        return Extent(self.line, self.column, self.line + len(lines) - 1, end)


class Node(NamedTuple):
    """A statement, a clause of one, or an expression.

    Attributes:
        name: its rule in the grammar.
        children: words and nodes in the order written; never empty but for an empty file.
    """

    name: str
    children: tuple["Child", ...]

    @property
    def extent(self) -> Extent:
        """The place from the first word to the last."""
        if not self.children:
            return Extent(1, 1, 1, 1)
        first = self.first_word
        return Extent(first.line, first.column, *self.last_word.extent[2:])

    @property
    def first_word(self) -> Word:
        """The word that it begins with."""
        return first_word(self)

    @property
    def last_word(self) -> Word:
        """The word that it ends in."""
        return last_word(self)

    def nodes(self, *names: str) -> Iterator["Node"]:
        """Yield the child nodes of these names, or all of them."""
        for child in self.children:
            if isinstance(child, Node) and (not names or child.name in names):
                yield child

    def node(self, name: str) -> "Node | None":
        """Return the first child node of a name."""
        return next(self.nodes(name), None)

    def word(self, *types: str) -> Word | None:
        """Return the first child word of one of these types."""
        for child in self.children:
            if isinstance(child, Word) and child.type in types:
                return child
        return None

    def its(self, *types: str) -> Word:
        """Return the one child word of these types that the grammar sees to.

        Raises:
            LookupError: when the grammar and its reader do not agree.
        """
        found = self.word(*types)
        if found is None:
            raise LookupError(f"a node {self.name!r} has no word {' or '.join(types)}")
        return found

    def has(self, *types: str) -> bool:
        """Tell whether a word of one of these types is among the children."""
        return self.word(*types) is not None

    def values(self) -> list["Child"]:
        """Return the children that are numbers, names of numbers or sums of them."""
        return [
            child
            for child in self.children
            if (child.type in _VALUE_WORDS if isinstance(child, Word) else child.name in _SUMS)
        ]

    def value(self) -> "Child | None":
        """Return the first of the values, None when there is none."""
        return next(iter(self.values()), None)


Child = Word | Node


def first_word(child: Child) -> Word:
    """Return a word itself, or the word that a node begins with."""
    while isinstance(child, Node):
        child = child.children[0]
    return child


def last_word(child: Child) -> Word:
    """Return a word itself, or the word that a node ends in."""
    while isinstance(child, Node):
        child = child.children[-1]
    return child


_VALUE_WORDS: Final = frozenset({"NUMBER", "NAME"})
_SUMS: Final = frozenset({"sum", "group", "negative"})


class Comment(Struct, frozen=True, kw_only=True):
    """A comment with its ``#``; ``alone`` when nothing else stands on its line."""

    text: str
    line: int
    column: int
    alone: bool


class Fault(Struct, frozen=True, kw_only=True):
    """A fault of the spelling: a sentence and its place."""

    message: str
    extent: Extent


class PartText(Struct, frozen=True, kw_only=True):
    """One file of part text.

    Attributes:
        path: what findings print.
        root: the node "file", whose children are the statements.
        comments: in order; they are no part of ``root``.
        faults: all faults of the spelling, in order.
        signs: how many characters the text has.
        encoding: "utf-8", or "windows-1252" where the bytes are no UTF-8.
        library: path -> tree of the other files that it uses, and that these use.
        unread: path -> why such a file could not be read.
    """

    path: str
    root: Node
    comments: tuple[Comment, ...] = ()
    faults: tuple[Fault, ...] = ()
    signs: int = 0
    encoding: str = "utf-8"
    library: Mapping[str, "PartText"] = field(default_factory=lambda: _NO_TREES)
    unread: Mapping[str, str] = field(default_factory=lambda: _NO_REASONS)


_NO_TREES: Final[Mapping[str, PartText]] = MappingProxyType({})
_NO_REASONS: Final[Mapping[str, str]] = MappingProxyType({})
