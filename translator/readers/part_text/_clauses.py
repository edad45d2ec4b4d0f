"""The clauses of a statement: each at most once, and only where it means something."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from translator.readers.part_text._book import Book
from translator.syntax.tree import Node

_WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "from_end": "from start`, `from far` or `from both ends",
        "from_edge": "from heel",
        "to_end": "to end",
        "inclined": "angle",
        "sub_punch": "sub-punch and ream",
        "mark_only": "mark only",
        "drill": "drill only",
        "may_move": "may move",
        "direction": "at an angle",
    }
)
"""Clauses whose words are not their name."""


def clauses(statement: Node, allowed: frozenset[str], what: str, book: Book) -> dict[str, Node]:
    """Return the clauses of a statement by name; faults are noted.

    Args:
        statement: the statement's node.
        allowed: names of the clauses that mean something for it.
        what: what it makes, for the sentence ("holes").
        book: takes the findings.
    """
    found: dict[str, Node] = {}
    for node in statement.nodes():
        name = node.name
        if name in ("sum", "group", "negative"):
            continue
        if name not in allowed:
            book.say("meaningless", f"`{spelled(name)}` means nothing for {what}.", node.extent)
        elif name in found:
            book.say(
                "given-twice", f"`{spelled(name)}` is given twice for these {what}.", node.extent
            )
        else:
            found[name] = node
    return found


def only_one(found: Mapping[str, Node], names: tuple[str, ...], book: Book) -> str | None:
    """Return the one clause of several that exclude each other; a second one is noted."""
    given = [name for name in found if name in names]
    for name in given[1:]:
        book.say(
            "contradiction",
            f"`{spelled(name)}` and `{spelled(given[0])}` exclude each other.",
            found[name].extent,
        )
    return given[0] if given else None


def spelled(name: str) -> str:
    """Return a clause as a person writes it."""
    return _WORDS.get(name, name)
