"""Print a tree again in one layout: same words, same comments, tidy blanks and lines.

Statements that share a line go on sharing it while it has room, a block that opens and closes
on one line stays on it, and one blank line stays where there were any. All else follows from
the words alone, so that text laid out once is not changed by a second time.
"""

from bisect import bisect_left
from typing import Final

from msgspec.structs import replace

from translator.syntax._format_lines import (
    INDENT,
    WIDTH,
    Cell,
    Line,
    text_of,
    without_doubles,
)
from translator.syntax._format_words import Piece, pieces_of
from translator.syntax.tree import Comment, Node, PartText, Word

_BESIDE: Final = "   "
"""What parts two statements of one line."""

_CONTINUED: Final = 2 * INDENT
_VALUES: Final = frozenset({"section", "length", "quantity"})
_VALUE_COLUMN: Final = len("quantity ")
_CLOSING: Final = Cell(text="}")
_BLOCKS_OF_FILE: Final = frozenset({"part", "family"})


def formatted(tree: PartText) -> str:
    """Return the text of a tree in the one layout, its lines ended by a line feed.

    Args:
        tree: a tree without faults; one with faults holds pieces that could not be read.

    Raises:
        ValueError: for a tree with faults.
    """
    if tree.faults:
        raise ValueError("text with faults of the spelling is not laid out")
    return text_of(_Setting(tree.comments).file(tree.root))


class _Setting:
    """One run over one tree, from its first word to its last."""

    def __init__(self, comments: tuple[Comment, ...]) -> None:
        self._comments = comments
        self._places = [(each.line, each.column) for each in comments]
        self._taken = 0
        self._lines: list[Line] = []
        self._last_line = 0

    def file(self, root: Node) -> list[Line]:
        self._statements(root, [*root.nodes()], 0)
        self._pass_comments(self._until(None), 0, is_first=not root.children)
        return without_doubles(self._lines)

    # ------------------------------------------------------------ comments

    def _until(self, word: Word | None) -> list[Comment]:
        """Take the comments before a word; all that are left without one."""
        end = len(self._places)
        if word is not None:
            end = bisect_left(self._places, (word.line, word.column), self._taken)
        found = [*self._comments[self._taken : end]]
        self._taken = max(end, self._taken)
        return found

    def _pass_comments(self, comments: list[Comment], indent: int, *, is_first: bool) -> bool:
        """Set comments between statements; tell whether the next is still the first of all."""
        for comment in comments:
            if not self._at_line_end(comment):
                self._blank(comment.line, is_first=is_first)
                self._lines.append(Line(indent=indent, comment=_told(comment)))
                is_first = False
            self._last_line = comment.line
        return is_first

    def _at_line_end(self, comment: Comment) -> bool:
        """Set a comment behind what stands before it on its line, if it does stand there."""
        last = self._lines[-1] if self._lines else Line()
        if comment.line != self._last_line or not last.cells or last.comment:
            return False
        self._lines[-1] = replace(last, comment=_told(comment))
        return True

    def _blank(self, line: int, *, is_first: bool) -> None:
        if not is_first and line - self._last_line > 1:
            self._lines.append(Line())

    # ------------------------------------------------------------ blocks

    def _statements(self, block: Node, nodes: list[Node], indent: int) -> None:
        is_first, before = True, ""
        for node in nodes:
            begin = node.first_word
            is_commented = bool(comments := self._until(begin))
            is_first = self._pass_comments(comments, indent, is_first=is_first)
            beside = "" if is_commented or begin.line != self._last_line else before
            self._blank(begin.line, is_first=is_first)
            before = self._statement(block, node, indent, beside)
            is_first = False
            self._last_line = node.last_word.line

    def _statement(self, block: Node, node: Node, indent: int, before: str) -> str:
        """Set a statement.

        Args:
            block: the node around it.
            node: the statement.
            indent: blanks before its line.
            before: name of the statement before it whose line it may share, "" without one.

        Returns:
            Its name if another may share its line, else "".
        """
        line = self._one_line(node, indent)
        brace = _brace(node)
        last = self._lines[-1] if self._lines else Line()
        is_opened = brace is not None and line is None
        if block.name == "file" and last.cells and (is_opened or last.cells[0] == _CLOSING):
            self._lines.append(Line())
        if line is None:
            if brace is None:
                self._set(pieces_of(node), indent)
            else:
                self._block(node, brace, indent)
            return ""
        is_apart = block.name == "file" and _BLOCKS_OF_FILE & {node.name, before}
        if before and not is_apart and last.width + len(_BESIDE) + len(line.text) <= WIDTH:
            cells = (*last.cells, Cell(text=line.text, gap=_BESIDE))
            self._lines[-1] = Line(indent=indent, cells=cells)
        else:
            self._lines.append(_valued(line, node))
        return node.name

    def _one_line(self, node: Node, indent: int) -> Line | None:
        """Return a statement as one line; None where it needs several."""
        brace = _brace(node)
        first, last = node.first_word, node.last_word
        if self._has_comment(first, last):
            return None
        inner = [] if brace is None else _inner(node)
        if inner and first.line != last.line:
            return None
        if brace is None:
            pieces = pieces_of(node)
            if any(piece.must_break for piece in pieces):
                return None
            line = Line(indent=indent, cells=_cells(pieces), shape=_shape(node, pieces))
        else:
            inside = [self._one_line(each, indent) for each in inner]
            lines = [each for each in inside if each is not None]
            if len(lines) < len(inside):
                return None
            line = _inline(node, lines, indent)
        return line if line.width <= WIDTH else None

    def _has_comment(self, first: Word, last: Word) -> bool:
        place = bisect_left(self._places, (first.line, first.column))
        return place < len(self._places) and self._places[place] < (last.line, last.column)

    def _block(self, node: Node, brace: Word, indent: int) -> None:
        self._set([*pieces_of(node), Piece(word=brace, text="{", gap=" ")], indent)
        is_first = self._pass_comments(self._until(brace), indent + INDENT, is_first=True)
        self._last_line = brace.line
        inner = _inner(node)
        self._statements(node, inner, indent + INDENT)
        is_first = is_first and not inner
        self._pass_comments(self._until(node.last_word), indent + INDENT, is_first=is_first)
        self._lines.append(Line(indent=indent, cells=(_CLOSING,)))

    # ------------------------------------------------------------ long statements

    def _set(self, pieces: list[Piece], indent: int) -> None:
        """Set the words of a statement, in further lines where it is long or has comments."""
        text = ""
        begun = indent
        rests = _lengths_until_break(pieces)
        for place, piece in enumerate(pieces):
            # A comment before a comma, a bracket or the brace goes on behind it.
            is_glued = not piece.gap or piece.word.type == "LBRACE"
            comments = [] if is_glued or not place else self._until(piece.word)
            if comments:
                self._put(text, begun)
                self._pass_comments(comments, indent + _CONTINUED, is_first=True)
                text = ""
            is_full = begun + len(text) + rests[place] > WIDTH
            if text and (piece.must_break or (piece.may_break and is_full)):
                self._put(text, begun)
                text = ""
            begun = indent if not place else indent + _CONTINUED if not text else begun
            text += f"{piece.gap if text else ''}{piece.text}"
            self._last_line = piece.word.line
        self._put(text, begun)

    def _put(self, text: str, indent: int) -> None:
        if text:
            self._lines.append(Line(indent=indent, cells=(Cell(text=text),)))


def _brace(node: Node) -> Word | None:
    return node.word("LBRACE")


def _inner(node: Node) -> list[Node]:
    """Return the statements of a block."""
    brace = _brace(node)
    place = 0 if brace is None else node.children.index(brace)
    return [child for child in node.children[place:] if isinstance(child, Node)]


def _told(comment: Comment) -> str:
    return comment.text.rstrip(" \t")


def _cells(pieces: list[Piece]) -> tuple[Cell, ...]:
    cells: list[Cell] = []
    texts: list[str] = []
    gap = ""
    for piece in pieces:
        if piece.column:
            cells.append(Cell(text="".join(texts), gap=gap))
            texts, gap = [piece.text], piece.gap
        else:
            texts += (piece.gap, piece.text)
    return (*cells, Cell(text="".join(texts), gap=gap))


def _shape(node: Node, pieces: list[Piece]) -> tuple[str, ...]:
    columns = tuple(piece.column for piece in pieces if piece.column)
    return (node.name, *columns) if columns else ()


def _inline(node: Node, lines: list[Line], indent: int) -> Line:
    """Return a block in one line."""
    pieces = pieces_of(node)
    *heads, last = _cells(pieces)
    shape = _shape(node, pieces)
    inside = lines[0].cells if len(lines) == 1 else ()
    if inside:
        first, *others = inside
        shape = (node.name, *shape[1:], *lines[0].shape) if lines[0].shape else shape
    else:
        first, others = Cell(text=_BESIDE.join(line.text for line in lines)), []
    opened = f"{last.text} {{ {first.text}" if lines else f"{last.text} {{"
    cells = [*heads, replace(last, text=opened), *others]
    cells[-1] = replace(cells[-1], text=f"{cells[-1].text} }}")
    return Line(indent=indent, cells=tuple(cells), shape=shape if len(cells) > 1 else ())


def _valued(line: Line, node: Node) -> Line:
    """Set the value of a statement that begins a line of a part below those around it."""
    if node.name not in _VALUES:
        return line
    keyword, _, value = line.text.partition(" ")
    cells = (Cell(text=f"{keyword:<{_VALUE_COLUMN}}{value}"),)
    return replace(line, cells=cells)


def _lengths_until_break(pieces: list[Piece]) -> list[int]:
    """Return how many columns each word takes with those that have to stand beside it."""
    lengths: list[int] = []
    behind = 0
    for piece in reversed(pieces):
        lengths.append(len(piece.gap) + len(piece.text) + behind)
        behind = 0 if piece.may_break or piece.must_break else lengths[-1]
    return lengths[::-1]
