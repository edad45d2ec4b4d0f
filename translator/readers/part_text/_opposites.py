"""Parts that are the opposite hand of another part of the file."""

from collections.abc import Container, Mapping
from types import MappingProxyType
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.findings import Related, Severity
from translator.model import Placed
from translator.readers.part_text._book import Book, near
from translator.readers.part_text._families import Shelf, layers_of, weight_of
from translator.readers.part_text._frames import Frame, Spot
from translator.readers.part_text._layers import Layer, Layers
from translator.readers.part_text._parts import TEXTS, Header, read_part
from translator.source import Span
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Node

_OWN: Final = frozenset({*TEXTS, "quantity", "remark", "second_work", "carried", "waive", "broken"})
"""What an opposite part may say itself; what is made is told by the other part alone."""

_NOT_TAKEN: Final = frozenset({"quantity", "carried"})
"""What is said of the one part only, and not of its opposite."""

_HEAD: Final = frozenset({"mark", "title", "opposite", "call"})
_OTHER_END: Final = MappingProxyType({"ends.start": "ends.far", "ends.far": "ends.start"})


class Drawn(Struct, frozen=True, kw_only=True, eq=False):
    """A part of the file.

    Attributes:
        node: its node.
        header: what the file says before it.
        has_faults: its spelling has faults.
    """

    node: Node
    header: Header
    has_faults: bool

    @property
    def mark(self) -> str:
        """Its mark, "" when that could not be read."""
        mark = self.node.node("mark")
        return "" if mark is None else unquoted(mark.last_word.text)

    @property
    def opposite(self) -> Node | None:
        """The clause that makes it the opposite of another part."""
        return self.node.node("opposite")


def read_opposite(
    one: Drawn,
    drawn: Mapping[str, list[Drawn]],
    sound: Container[Drawn],
    shelf: Shelf,
    book: Book,
) -> Placed | None:
    """Read a part that is the opposite of another one of the file.

    Args:
        one: the part.
        drawn: mark -> the parts of the file that have it.
        sound: those of them that were read and have no error.
        shelf: the families of the file.
        book: takes the findings.

    Returns:
        None when there was a fault, which is noted.
    """
    clause = one.node.node("opposite")
    book.frame = Frame(path=book.home.path, units=one.header.units)
    other = None if clause is None else _other(clause, drawn, sound, book)
    _refuse_what_is_made(one, book)
    if other is None or clause is None or book.errors:
        return None
    if not book.has_room_for(weight_of(other.node), clause.extent):
        return None
    said = len(book.findings)
    layers = _layers(one, other, clause, shelf, book)
    if layers is None:
        return None
    placed = read_part(one.node, layers, one.header, book, has_faults=one.has_faults)
    # What is remarkable about the other part was told there.
    book.findings[said:] = [
        f for f in book.findings[said:] if f.severity is Severity.ERROR or not f.related
    ]
    _tell_what_is_words(layers, book)
    called = book.frame.spot(clause.extent).span
    return None if placed is None else _mirrored(placed, called)


def _refuse_what_is_made(one: Drawn, book: Book) -> None:
    for statement in one.node.nodes():
        if statement.name not in _OWN and statement.name not in _HEAD:
            what = statement.first_word.text
            message = (
                f"`{what}` has no place in an opposite part: what is made is the mirror image of"
                " the other part, in everything."
            )
            book.say("opposite-adds", message, statement.extent)


def _layers(one: Drawn, other: Drawn, clause: Node, shelf: Shelf, book: Book) -> Layers | None:
    """Return the statements of the other part, then those of the opposite itself."""
    own = book.frame
    frame = Frame(
        path=book.home.path,
        units=other.header.units,
        owner=f"the part {other.mark}",
        call=clause.extent,
        caller=own,
    )
    base = layers_of(other.node, frame, shelf, book)
    if base is None:
        return None
    base = [replace(layer, skipped=_NOT_TAKEN) for layer in base]
    return Layers(layers=[*base, Layer(node=one.node, frame=own)])


def _other(
    clause: Node, drawn: Mapping[str, list[Drawn]], sound: Container[Drawn], book: Book
) -> Drawn | None:
    """Return the part that another is the opposite of; None when there is none, which is noted."""
    mark = clause.node("mark") or clause
    name = unquoted(mark.last_word.text)
    found = drawn.get(name, [])
    if not found:
        message = f"There is no part {name} in this file{near(name, drawn)}"
        book.say("opposite-unknown", message, mark.extent)
        return None
    heads = tuple(
        Related(span=(one.node.node("mark") or one.node).extent.span(book.home.path), message=name)
        for one in found[:2]
    )
    span = mark.extent.span(book.home.path)
    rule, message = "", ""
    if len(found) > 1:
        rule, message = "opposite-unclear", f"{len(found)} parts of this file have the mark {name}."
    elif found[0].opposite is not None:
        rule = "opposite-of-opposite"
        message = f"{name} is itself the opposite of a part: name the one that is drawn."
    elif found[0] not in sound:
        rule = "opposite-unread"
        message = f"{name} has a fault and is not read, so its opposite is not either."
    if rule:
        book.say_at(rule, message, Spot(span, heads))
        return None
    return found[0]


def _tell_what_is_words(layers: Layers, book: Book) -> None:
    """Note the texts that no mirror turns, and the lines that are left out."""
    for layer in layers.layers[:-1]:
        for statement in layer.node.nodes("second_work", "carried"):
            words = unquoted(statement.last_word.text)
            is_taken = statement.name == "second_work"
            message = (
                f"The second work \u201c{words}\u201d is taken over as written: see that it fits"
                " the opposite hand."
                if is_taken
                else f"The carried line \u201c{words}\u201d is not taken over."
            )
            spot = layer.frame.spot(statement.extent)
            book.say_at("opposite-words", message, spot, Severity.NOTE)


def _mirrored(placed: Placed, called: Span) -> Placed:
    """Return the opposite hand; what is told of one end is then told of the other.

    The place where it is called so is kept, for rules that ask whether anybody says it.
    """
    from translator.geometry.turning import mirrored

    return Placed(
        part=mirrored(placed.part),
        places={
            **{_OTHER_END.get(path, path): span for path, span in placed.places.items()},
            "opposite": called,
        },
        beyond={_OTHER_END.get(path, path): lines for path, lines in placed.beyond.items()},
    )
