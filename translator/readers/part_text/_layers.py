"""The statements a part is put together of: its families' first, its own last."""

from collections.abc import Collection, Iterator, Sequence
from typing import NamedTuple

from msgspec import Struct

from translator.readers.part_text._book import Book
from translator.readers.part_text._frames import Frame
from translator.syntax.language import keyword_of
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Node


class Said(NamedTuple):
    """A statement, and what it is read under."""

    node: Node
    frame: Frame


class Layer(Struct, frozen=True, kw_only=True):
    """The statements of one block.

    Attributes:
        node: the part or family whose statements they are.
        frame: what they are read under.
        skipped: names of statements that do not count here.
    """

    node: Node
    frame: Frame
    skipped: frozenset[str] = frozenset()

    def said(self, *names: str) -> Iterator[Said]:
        """Yield the statements of these names."""
        for node in self.node.nodes(*names):
            if node.name not in self.skipped:
                yield Said(node, self.frame)


class Layers(Struct, frozen=True, kw_only=True):
    """All statements of a part; a later layer adds to the ones before it and overrides them."""

    layers: Sequence[Layer]

    def every(self, *names: str) -> Iterator[Said]:
        """Yield the statements of these names, layer by layer."""
        for layer in self.layers:
            yield from layer.said(*names)

    def last(self, *names: str) -> list[Said]:
        """Return the statements of these names of the last layer that has any."""
        for layer in reversed(self.layers):
            found = list(layer.said(*names))
            if found:
                return found
        return []

    def once(self, names: Collection[str], book: Book) -> dict[str, Said]:
        """Return the statements that a part has once, by name.

        The one of the last layer counts; a second one in the same layer is noted.
        """
        found: dict[str, Said] = {}
        for layer in self.layers:
            own: dict[str, Said] = {}
            for said in layer.said(*names):
                name = said.node.name
                if name in own:
                    what = "part" if layer is self.layers[-1] else "family"
                    message = f"The {name} of this {what} is given twice."
                    book.say_at("given-twice", message, said.frame.spot(said.node.extent))
                else:
                    own[name] = said
            found |= own
        return found

    def broken(self) -> frozenset[str]:
        """Return the first words of the broken statements, by terminal."""
        return frozenset(
            keyword_of(unquoted(node.last_word.text)) for node, _ in self.every("broken")
        )
