"""Who wrote a file, told by its habits, and which piece it describes."""

import hashlib
import re
from typing import Final

from translator.readers.nc._records import Records
from translator.readers.nc._tree import Line, Tree

_NUMBERS: Final = slice(8, 20)
_TEXTS: Final = slice(0, 8)
_SHOWN: Final = 32
_DIGEST: Final = 4
_WORD: Final = re.compile(r"\S*\d\S*")


def writer_of(tree: Tree) -> str:
    """Return the fingerprint of the program that wrote a file.

    It is made of the wording of the comments (words with digits left out), the line ends, how
    far texts and numbers are indented and how many decimals they have in the header. It begins
    with the first comment, so that a person may know the program again.
    """
    if not tree.sheets or not tree.sheets[0].fields:
        return "unknown"
    sheet = tree.sheets[0]
    comments = tuple(_wording(line) for line in sheet.comments)
    habits = (
        repr(tree.newline),
        comments,
        sorted({_indent(line) for line in sheet.fields[_TEXTS]} - {-1}),
        tuple(_number_habit(line) for line in sheet.fields[_NUMBERS]),
        any(block.at.text != block.at.text.upper() for block in sheet.blocks),
    )
    name = next((text for text in comments if text), "")
    digest = hashlib.blake2b(repr(habits).encode(), digest_size=_DIGEST).hexdigest()
    return f'"{name[:_SHOWN].strip()}" {digest}' if name else f"without comments {digest}"


def _wording(line: Line) -> str:
    """Return a comment without its file names, marks, dates and numbers."""
    text = _WORD.sub("", line.text.lstrip("*"))
    return " ".join(re.sub(r"[^A-Za-z ]+", " ", text).split())


def _indent(line: Line | None) -> int:
    """Return how far a text is indented; -1 for a blank one, which tells nothing."""
    if line is None or not line.text.strip():
        return -1
    return len(line.text) - len(line.text.lstrip())


def _number_habit(line: Line | None) -> tuple[int, int, str]:
    """Return the column in which a number ends, its decimals, and its decimal mark."""
    text = line.text.rstrip() if line is not None else ""
    first = re.split(r",\s|\s+", text.strip(), maxsplit=1)[0]
    end = text.find(first) + len(first) if first else 0
    mark = "," if "," in first else "."
    return end, len(first.partition(mark)[2]), mark


def piece_of(records: Records | None, tree: Tree) -> str:
    """Return a digest of a piece's geometry: copies under other marks have the same one."""
    if records is None:
        facts: object = [line.text.strip() for line in tree.lines]
    else:
        holes = sorted(
            (h.view, h.ref, h.x, h.y, h.diameter, h.kind, h.depth, h.width, h.height, h.angle)
            for h in records.holes
        )
        contours = sorted(
            (c.code, c.view, tuple((p.ref, p.x, p.y, p.radius) for p in c.points))
            for c in (*records.outers, *records.inners)
        )
        facts = (repr(dict(records.section)), records.length, holes, contours)
    return hashlib.blake2b(repr(facts).encode(), digest_size=8).hexdigest()
