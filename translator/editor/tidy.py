"""Lay part text out anew, and prove that it still says the same before it is handed on."""

import re
from collections import Counter
from collections.abc import Iterator
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.conventions import Conventions
from translator.errors import WorkError
from translator.findings import Finding, Severity
from translator.readers import Reading
from translator.readers.part_text import READER
from translator.source import Source
from translator.syntax._format_words import spelled
from translator.syntax.format import formatted
from translator.syntax.tree import Node, PartText, Word

SYNTAX: Final = "syntax"
"""Rule of what is no part text, whichever stage finds it."""

ENCODING: Final = "encoding-assumed"
"""Rule of the note on a text that is not UTF-8."""


class Tidied(Struct, frozen=True, kw_only=True):
    """One text laid out anew, or why it is left alone.

    Attributes:
        data: the bytes in the one layout, in the encoding and with the line ends of the text
            they were made of; None for a text with faults.
        faults: what is no part text in it.
    """

    data: bytes | None
    faults: tuple[Finding, ...] = ()


def tidied(source: Source) -> Tidied:
    """Lay out a file of part text.

    Raises:
        WorkError: when the new text would not read the same; a fault of this program.
    """
    tree = READER.parse(source)
    reading = READER.lower(tree, Conventions())
    faults = tuple(f for f in reading.findings if f.rule == SYNTAX and f.severity is Severity.ERROR)
    if faults:
        return Tidied(data=None, faults=faults)
    data = _encoded(formatted(tree), tree, source.data)
    again = READER.parse(replace(source, data=data))
    is_plain = data.isascii()  # what was no UTF-8 were blanks, which are laid out anew
    if not (
        _says_the_same(tree, again, is_plain=is_plain)
        and _reads_the_same(reading, again, is_plain=is_plain)
    ):
        raise WorkError(
            f"{source.path} is left as it is: laid out anew it would not read the same"
            " (a fault of this program)"
        )
    return Tidied(data=data)


def _encoded(text: str, tree: PartText, data: bytes) -> bytes:
    if tree.encoding == "utf-8":
        encoded = text.encode("utf-8")
    else:
        encoded = b"".join(_one_sign(sign) for sign in text)
    end = re.search(rb"\r\n|\r|\n", data)
    return encoded.replace(b"\n", b"\r\n") if end is not None and end[0] == b"\r\n" else encoded


def _one_sign(sign: str) -> bytes:
    """Return the byte that a sign of Windows-1252 was read from."""
    try:
        return sign.encode("cp1252")
    except UnicodeEncodeError:
        return sign.encode("latin-1")


def _says_the_same(tree: PartText, again: PartText, *, is_plain: bool) -> bool:
    """Tell whether two trees hold the same words in the same nodes, and the same comments."""
    comments, others = (
        [comment.text.rstrip() for comment in each.comments] for each in (tree, again)
    )
    return (
        not again.faults
        and (again.encoding == tree.encoding or is_plain)
        and comments == others
        and list(_words(tree.root)) == list(_words(again.root))
    )


def _words(node: Node) -> Iterator[tuple[str, str]]:
    yield "", node.name
    for child in node.children:
        if isinstance(child, Word):
            yield child.type, spelled(child)
        else:
            yield from _words(child)
    yield "", ""


def _reads_the_same(reading: Reading, again: PartText, *, is_plain: bool) -> bool:
    """Tell whether a tree lowers to the same parts, with the same said about each.

    Plain ASCII needs no word on its encoding any more.
    """
    other = READER.lower(again, Conventions())
    first, second = (
        Counter(_told(f) for f in each.findings if not (is_plain and f.rule == ENCODING))
        for each in (reading, other)
    )
    return [p.part for p in reading.parts] == [p.part for p in other.parts] and first == second


def _told(finding: Finding) -> tuple[object, ...]:
    """Return what a finding says but for its place; a sentence may name lines."""
    return (finding.rule, finding.severity, finding.mark, finding.element, finding.value)
