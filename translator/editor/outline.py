"""What an editor lists of a file: its parts, their legs, its families."""

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from translator.source import printable
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Extent, Node, PartText

Kind = Literal["part", "leg", "family"]


class Entry(Struct, frozen=True, kw_only=True):
    """One line of the outline.

    Attributes:
        kind: what it is.
        name: mark, leg or name.
        detail: title and section of a part, what a leg holds, the parameters of a family.
        whole: all of it in the text.
        head: its first words.
        inner: what is listed within it.
    """

    kind: Kind
    name: str
    detail: str
    whole: Extent
    head: Extent
    inner: tuple["Entry", ...] = ()


def outline(tree: PartText) -> tuple[Entry, ...]:
    """Return the outline of a file, in its order; parts that can't be read are in it too."""
    return tuple(_entries(tree))


def _entries(tree: PartText) -> Iterator[Entry]:
    for node in tree.root.nodes("part", "family"):
        if node.name == "family":
            name = node.word("NAME")
            yield _entry("family", "family" if name is None else name.text, _parameters(node), node)
        else:
            mark, title = node.node("mark"), node.node("title")
            told = [] if title is None else [unquoted(title.last_word.text)]
            section = node.node("section")
            if section is not None:
                words = [
                    child.text for child in section.children[1:] if not isinstance(child, Node)
                ]
                told += [" ".join(words)]
            name_text = "part" if mark is None else unquoted(mark.last_word.text)
            yield _entry("part", name_text, ", ".join(told), node)


def _entry(kind: Kind, name: str, detail: str, node: Node) -> Entry:
    first = node.first_word.extent
    named = node.node("mark")
    word = node.word("NAME", "A", "B")
    last = word.extent if word is not None else named.extent if named is not None else first
    return Entry(
        kind=kind,
        # An editor refuses an entry without a name.
        name=printable(name).strip() or kind,
        detail=printable(detail),
        whole=node.extent,
        head=Extent(*first[:2], *last[2:]),
        inner=tuple(
            _entry("leg", _leg_name(leg), _held(leg), leg) for leg in node.nodes("leg", "face")
        ),
    )


def _leg_name(node: Node) -> str:
    words = [child.text.lower() for child in node.children if not isinstance(child, Node)]
    return " ".join(words[: words.index("{")]) if "{" in words else node.name


def _held(leg: Node) -> str:
    held = [child.first_word.text for child in leg.nodes()]
    return ", ".join(held)


def _parameters(family: Node) -> str:
    return ", ".join(each.first_word.text for each in family.nodes("parameter"))
