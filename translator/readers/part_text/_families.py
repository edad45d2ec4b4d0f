"""Families of parts: what a call of one comes to."""

from collections.abc import Iterator, Mapping
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.findings import Related
from translator.readers.part_text._amounts import amount_of
from translator.readers.part_text._book import SYNTAX, Book, RefusalError, near
from translator.readers.part_text._frames import Amount, Frame, Spot
from translator.readers.part_text._layers import Layer
from translator.syntax.tree import Child, Extent, Node, Word

DEEPEST: Final = 16
"""So many families may build on one another."""


class Family(Struct, frozen=True, kw_only=True, eq=False):
    """A family as declared.

    Attributes:
        name: its name.
        node: its node.
        frame: the file and unit it is written in; without names.
        shelf: where the family that it builds on is looked up.
        weight: how many words it has.
    """

    name: str
    node: Node
    frame: Frame
    shelf: "Shelf"
    weight: int

    @property
    def head(self) -> Related:
        """Its name where it is declared, as a second place of findings."""
        extent = self.node.its("NAME").extent
        return Related(span=extent.span(self.frame.path), message=f"the family {self.name}")

    def parameters(self) -> Iterator[tuple[str, Node, Child | None]]:
        """Yield name, node and default of each parameter."""
        for node in self.node.nodes("parameter"):
            yield node.its("NAME").text, node, behind_equals(node)


class Shelf:
    """The families that a file can call, those it declares and those it brings.

    Attributes:
        own: those it declares, by name.
        brought: those of other files, by name.
        unsound: names of its own that have a fault, and so can't be called, and where.
    """

    def __init__(self) -> None:
        self.own: dict[str, Family] = {}
        self.brought: dict[str, Family] = {}
        self.unsound: dict[str, Extent] = {}

    def find(self, name: str) -> Family | None:
        """Return the family of that name."""
        return self.own.get(name) or self.brought.get(name)

    def names(self) -> list[str]:
        """Return the names of all its families."""
        return [*self.own, *self.brought]


def behind_equals(node: Node) -> Child | None:
    """Return what stands behind the ``=`` of a parameter or an argument."""
    children = node.children
    is_given = len(children) > 2 and isinstance(children[1], Word)  # noqa: PLR2004 - name, =, sum
    return children[2] if is_given else None


def extent_of(call: Node) -> Extent:
    """Return the place of a call: the family's name and its brackets."""
    return Extent(*call.its("NAME").extent[:2], *call.extent[2:])


def weight_of(node: Node) -> int:
    """Return how many words a node has, which is what reading it takes."""
    count, left = 0, [node]
    while left:
        for child in left.pop().children:
            if isinstance(child, Node):
                left.append(child)
            else:
                count += 1
    return count


def layers_of(node: Node, frame: Frame, shelf: Shelf, book: Book) -> list[Layer] | None:
    """Return the layers of a part, or of a family, those it calls for first.

    Args:
        node: the part's or family's node.
        frame: what its statements are read under.
        shelf: the families it can call.
        book: takes the findings.

    Returns:
        None when a call of a family can't be read, which is noted.
    """
    own = Layer(node=node, frame=frame)
    call = node.node("call")
    if call is None:
        return [own]
    before, book.frame = book.frame, frame
    inner = _called(call, frame, shelf, book)
    book.frame = before
    if inner is None:
        return None
    family, under = inner
    base = layers_of(family.node, under, family.shelf, book)
    return None if base is None else [*base, own]


def _called(call: Node, frame: Frame, shelf: Shelf, book: Book) -> tuple[Family, Frame] | None:
    """Return the family of a call, and what its statements are read under."""
    word = call.its("NAME")
    family = shelf.find(word.text)
    if family is None:
        unknown_family(call, shelf, book)
        return None
    if family.name in family.shelf.unsound:
        spot = frame.spot(word.extent)
        fault = family.shelf.unsound[family.name].span(family.frame.path)
        message = f"The family {family.name} has a fault at line {fault.line}: it can't be called."
        related = Related(span=fault, message=f"the fault in the family {family.name}")
        book.say_at("family-unsound", message, Spot(spot.span, (*spot.related, related)))
        return None
    if not book.has_room_for(family.weight, extent_of(call)):
        return None
    names = _bound(call, family, frame, book)
    if names is None:
        return None
    owner = f"the family {family.name}"
    under = replace(family.frame, names=names, owner=owner, call=extent_of(call), caller=frame)
    return family, under


def unknown_family(call: Node, shelf: Shelf, book: Book) -> None:
    """Note that a call names no family."""
    word = call.its("NAME")
    message = f"There is no family {word.text}{near(word.text, shelf.names())}"
    book.say("family-unknown", message, word.extent)


def arguments(call: Node, family: Family, book: Book) -> dict[str, Node]:
    """Return the arguments of a call by name; those that don't fit the family are noted."""
    known = {name: default for name, _, default in family.parameters()}
    given: dict[str, Node] = {}
    for node in call.nodes("argument"):
        word = node.its("NAME")
        if word.text in given:
            message = f"The parameter {word.text} is given twice."
            _say(book, "given-twice", message, node.extent, family)
        elif word.text not in known:
            message = (
                f"The family {family.name} has no parameter {word.text}{near(word.text, known)}"
            )
            _say(book, "parameter-unknown", message, word.extent, family)
        given.setdefault(word.text, node)
    missing = [name for name, default in known.items() if default is None and name not in given]
    if missing:
        listed = " and ".join((", ".join(missing[:-1]), missing[-1])[len(missing) == 1 :])
        message = f"The family {family.name} needs {listed}: write `{missing[0]} = ...`."
        _say(book, "parameter-missing", message, extent_of(call), family)
    return given


def _say(book: Book, rule: str, message: str, extent: Extent, family: Family) -> None:
    spot = book.frame.spot(extent)
    book.say_at(rule, message, Spot(spot.span, (*spot.related, family.head)))


def _bound(call: Node, family: Family, frame: Frame, book: Book) -> Mapping[str, Amount] | None:
    """Return what the parameters stand for; None when there was a fault, which is noted."""
    errors = book.errors
    given = arguments(call, family, book)
    if book.errors > errors:
        return None
    values: dict[str, Amount] = {}
    for name, _, default in family.parameters():
        argument = given.get(name)
        own = replace(
            family.frame,
            names=values,
            owner=f"the family {family.name}",
            call=extent_of(call),
            caller=frame,
        )
        value, under = (default, own) if argument is None else (behind_equals(argument), frame)
        if value is None:
            book.say(SYNTAX, f"The parameter {name} has no value.", extent_of(call))
            return None
        try:
            values[name] = amount_of(value, under)
        except RefusalError as refusal:
            book.say_at(refusal.rule, refusal.message, under.spot(refusal.extent))
    return None if book.errors > errors else values
