"""The words of a statement as they are set: each with the blanks before it."""

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from translator.lengths.characters import BLANKS, FOOT_MARKS
from translator.syntax.language import language
from translator.syntax.quoting import quoted
from translator.syntax.tree import Child, Node, Word

NARROW: Final = " "
WIDE: Final = "  "

_BLANK_RUN: Final = re.compile(f"[{BLANKS}]+")
_FIGURES: Final = frozenset({"NUMBER", "DEGREES", "MEASURE", "SECTION_TEXT", "BOLT_SIZE"})
_FEET: Final = re.compile(rf".*(?<![{FOOT_MARKS}])[{FOOT_MARKS}]|.*(?:ft|foot|feet)", re.IGNORECASE)
_DRAWN: Final = frozenset({"holes", "slots", "centre_mark"})
"""Statements whose gauge and positions stand apart from what they size."""

_PLACING: Final = frozenset({"gauge", "at", "spaces"})
_OF_PLACING: Final = frozenset({"from_end", "to_end", "total", "staggered"})
_TRIMS: Final = frozenset({"cope", "clip", "rounding"})
_SIDES: Final = frozenset({"HEEL", "TOE", "LOWER", "UPPER"})
_CLAUSES: Final = frozenset(
    {
        *("gauge", "at", "spaces", "from_end", "from_edge", "to_end", "total", "bolt", "along"),
        *("across", "turned", "direction", "depth", "tapped", "countersunk", "drill", "punch"),
        *("sub_punch", "mark_only", "rod", "vent", "height", "inclined", "may_move", "staggered"),
        *("id",),
        *("line_to", "arc_to", "close", "arc_close", "radius", "deep", "called"),
        *("on", "waived_value", "reason", "by", "until", "mass", "paint", "saw"),
    }
)
"""Nodes before which a long statement may go on in the next line."""

_LISTS: Final = frozenset({"gauge", "at", "spaces", "call", "family", "mitre"})
"""Nodes in which a line may end behind a comma."""

_COLUMNS: Final = frozenset({("mitre", "angle"), ("part", "call"), ("part", "opposite")})
"""Statements, and nodes of them that begin a column."""

_SIGNED: Final = frozenset({"negative", "angle", "bulge"})
_PLACES: Final = frozenset({"point", "through"})


class Piece(NamedTuple):
    """One word as it is set.

    Attributes:
        word: the word as it was written.
        text: its spelling now.
        gap: the blanks before it.
        column: name of the cell that it begins, "" if it goes on in one. Cells of one name
            are set below each other where statements of one kind follow each other.
        may_break: a line may begin with it.
        must_break: a line has to begin with it: on one line it would read otherwise.
    """

    word: Word
    text: str
    gap: str
    column: str = ""
    may_break: bool = False
    must_break: bool = False


def pieces_of(node: Node) -> list[Piece]:
    """Return the words of a statement, or of the head of a block up to its brace."""
    found: list[Piece] = []
    previous: Word | None = None
    words = list(_walk(node))
    for number, (word, way) in enumerate(words):
        behind = words[number + 1][0] if number + 1 < len(words) else None
        parent = way[-1][0]
        gap, column = _gap(previous, word, parent), ""
        begun = _begun(way)
        if previous is not None and begun in _CLAUSES:
            column = _column(node, begun, way[0][1])
            gap = WIDE if column else gap
        elif node.name in _TRIMS and parent is node and word.type in _SIDES:
            column = "side"
        elif (node.name, begun) in _COLUMNS:
            column = begun
        after_comma = previous is not None and previous.type == "COMMA"
        found.append(
            Piece(
                word=word,
                text=spelled(word),
                gap="" if previous is None else gap,
                column=column,
                may_break=begun in _CLAUSES or (after_comma and _is_listed(way)),
                must_break=_would_join(previous, word, behind),
            )
        )
        previous = word
    return found


def spelled(word: Word) -> str:
    """Return a word as it is set: keywords small, one blank within a figure, all else as typed."""
    text = word.text
    if word.type in _FIGURES:
        return _BLANK_RUN.sub(" ", text)
    if word.type == "STRING":
        # A straight quote closed by a curly one would run on to a straight one behind it.
        return quoted(text[1:-1]) if text[0] == '"' and text[-1] != '"' else text
    is_keyword = text.isascii() and language().words.get(text.lower()) == word.type
    return text.lower() if is_keyword or word.type == "X" else text


Way = tuple[tuple[Node, int], ...]
"""From the statement down to a word: each node, and which of its children comes next."""


def _walk(node: Node, above: Way = ()) -> Iterator[tuple[Word, Way]]:
    for number, child in enumerate(node.children):
        way = (*above, (node, number))
        if isinstance(child, Node):
            yield from _walk(child, way)
        elif child.type == "LBRACE":
            return
        else:
            yield child, way


def _begun(way: Way) -> str:
    """Return the name of the outermost node below the statement that a word begins, or ""."""
    for depth in range(1, len(way)):
        if all(number == 0 for _, number in way[depth:]):
            return way[depth][0].name
    return ""


def _column(statement: Node, clause: str, number: int) -> str:
    """Return the column that a clause of a drawn feature begins, "" if it begins none."""
    if statement.name not in _DRAWN or clause in _OF_PLACING:
        return ""
    if clause in _PLACING:
        return "places" if clause != "gauge" else clause
    before = statement.children[number - 1]
    follows = isinstance(before, Node) and before.name in _PLACING | _OF_PLACING
    return "options" if follows else ""


def _is_listed(way: Way) -> bool:
    """Tell whether the comma before a word parts the items of a list."""
    for node, number in reversed(way):
        if number:
            return node.name in _LISTS
    return False


def _gap(previous: Word | None, word: Word, parent: Node) -> str:
    if previous is None or word.type in ("COMMA", "RPAR") or previous.type == "LPAR":
        return ""
    if word.type == "LPAR" and parent.name in ("call", "family", "negative"):
        return ""
    if previous.type == "MINUS" and _is_sign(previous, word, parent):
        return ""
    if previous.type == "DIAMETER" and word.type == "NUMBER" and not previous.text.isascii():
        return ""
    if previous.type == "COMMA" and parent.name in _PLACES and _is_short(parent, previous):
        return ""
    return NARROW


def _is_sign(minus: Word, word: Word, parent: Node) -> bool:
    if parent.name not in _SIGNED:
        return False
    children = parent.children
    return any(children[n : n + 2] == (minus, word) for n in range(len(children) - 1))


def _is_short(parent: Node, comma: Word) -> bool:
    """Tell whether the numbers on both sides of a comma need no blank between them."""
    place = parent.children.index(comma)
    return all(_is_bare(parent.children[n]) for n in (place - 1, place + 1))


def _is_bare(child: Child) -> bool:
    return isinstance(child, Word) and not set(BLANKS) & set(child.text)


def _would_join(previous: Word | None, word: Word, behind: Word | None) -> bool:
    """Tell whether feet, a minus and a number would be read as one length on one line."""
    if previous is None or behind is None:
        return False
    is_subtracted = (previous.type, word.type, behind.type) == ("NUMBER", "MINUS", "NUMBER")
    return is_subtracted and _FEET.fullmatch(previous.text) is not None
