"""What follows the header's numbers: texts, blocks, EN, and what stands behind it."""

import re
from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from translator.readers.nc._book import Book
from translator.readers.nc._tree import CODES, ROW_CODES, Line

_TEXTS: Final = 4
_CODE: Final = re.compile(r"([ \t]{0,2})([A-Za-z][A-Za-z0-9])(?:\s+(\S.*))?\s*")
_ROW: Final = re.compile(r"\s*[vouhVOUH]?\s*[+-]?[.,]?\d")
_DATA: Final = re.compile(r"\s*[vouhVOUH]\s*[+-]?[.,]?\d[\d.,]*\s*[ousOUS]?\s+[+-]?[.,]?\d")
_MARKED: Final = ("*", ";", "//")
"""Beginnings of a comment; only ** in columns 1 and 2 is the standard's."""

_LETTERS: Final = 2


class Code(Struct, frozen=True, kw_only=True):
    """A block code as written: in capitals, and what is unusual about it."""

    code: str
    trailing: str
    indent: int
    is_small: bool


def code_of(line: Line) -> Code | None:
    """Return the block code that a line is, or None.

    Codes stand alone in columns 1 and 2. A known code may be small, indented by one or two
    blanks, or followed by words; an unknown one must be two capitals in columns 1 and 2.
    """
    match = _CODE.fullmatch(line.text)
    if match is None:
        return None
    indent, letters, trailing = len(match[1]), match[2], match[3] or ""
    capitals = letters.upper() == letters
    known = letters.upper() in CODES
    if not known and not (capitals and letters.isalpha()):
        return None
    if indent and (trailing or not known or not capitals):
        return None
    if trailing and (not known or not capitals or trailing[0] in "+-.0123456789"):
        return None
    return Code(code=letters.upper(), trailing=trailing, indent=indent, is_small=not capitals)


def is_start(line: Line) -> bool:
    """Tell whether a line is ST, in column 1 or 2."""
    code = code_of(line)
    return code is not None and code.code == "ST" and code.indent < _LETTERS


def say_odd_code(line: Line, code: Code, strays: list[Line], book: Book) -> None:
    """Report what is unusual about the way a block code is written."""
    if code.is_small:
        text = "block and profile codes are written in small letters"
        book.odd("nc-small-letters", text, line.number)
    if code.indent:
        book.odd("nc-code-indented", "block codes do not begin in column 1", line.number)
    if code.trailing:
        text = "words stand behind a block code; they were kept as they stand"
        book.warn("nc-code-trailing", text, line.number)
        strays.append(line)


class Tail:
    """Sorts the lines behind the header's numbers; one for each sheet, for one call of parse.

    ``is_left_aligned`` tells that header texts begin in column 1, where codes stand.
    """

    __slots__ = ("blocks", "book", "comments", "end", "is_left_aligned", "strays", "texts")

    def __init__(
        self,
        *,
        book: Book,
        comments: list[Line],
        strays: list[Line],
        is_left_aligned: bool,
    ) -> None:
        self.book = book
        self.comments = comments
        self.strays = strays
        self.is_left_aligned = is_left_aligned
        self.texts: list[Line] = []
        self.blocks: list[tuple[str, Line, list[Line]]] = []
        self.end: Line | None = None

    def header_texts(self, lines: Sequence[Line]) -> int:
        """Take the header's text lines; return how many lines were used up."""
        used = len(lines)
        for index, line in enumerate(lines):
            if line.text.startswith("**"):
                self.comments.append(line)
            elif self._ends_texts(lines, index):
                used = index
                break
            else:
                self.texts.append(line)
        for line in self.texts:
            if _DATA.match(line.text):
                text = "a header text looks like a row of data; the block code in front may be lost"
                self.book.refuse("nc-text-data", text, line.number)
        surplus = [line for line in self.texts[_TEXTS:] if line.text.strip()]
        self.texts = self.texts[:_TEXTS] + surplus
        if len(self.texts) < _TEXTS:
            text = (
                f"{_TEXTS - len(self.texts)} of the header's {_TEXTS} text lines are missing"
                " in front of this line"
            )
            at = lines[min(used, len(lines) - 1)].number if lines else 1
            self.book.odd("nc-text-missing", text, at)
        for line in surplus:
            text = f"the header has more than {_TEXTS} lines of text; all were taken as remarks"
            self.book.warn("nc-text-surplus", text, line.number)
        return used

    def _ends_texts(self, lines: Sequence[Line], index: int) -> bool:
        """Tell whether a line among the header texts begins the first block.

        Behind the fourth text every code and comment does. Before it, header lines count
        first: a text may spell a code, and then what follows could not follow the code.
        """
        line = lines[index]
        code = code_of(line)
        if len(self.texts) >= _TEXTS:
            return code is not None or line.text.startswith(_MARKED)
        if code is None:
            return False
        if not (self.is_left_aligned or code.indent or code.trailing):
            return True
        after = next((line for line in lines[index + 1 :] if line.text.strip()), None)
        if code.code == "EN":
            return not code.indent and (after is None or is_start(after))
        if code.code in ROW_CODES:
            return after is not None and _ROW.match(after.text) is not None
        is_plain = not code.indent and not code.trailing
        return is_plain and after is not None and after.text[:_LETTERS].isspace()

    def read(self, lines: Sequence[Line], last: int) -> None:
        """Sort the lines behind the header into blocks; ``last`` is the sheet's last line."""
        for index, line in enumerate(lines):
            if not line.text.strip() or self._is_comment(line):
                continue
            code = code_of(line)
            if code is None or self._is_data(code):
                self._data(line)
                continue
            say_odd_code(line, code, self.strays, self.book)
            if code.code == "EN":
                self.end = line
                self._behind_end(lines[index + 1 :])
                return
            self.blocks.append((code.code, line, []))
        self.book.warn("nc-end-missing", "the file has no EN line at its end", last)

    def _is_data(self, code: Code) -> bool:
        """Tell whether what looks like an indented code is data of a block kept raw."""
        in_raw = bool(self.blocks) and self.blocks[-1][0] not in ROW_CODES
        return in_raw and code.indent >= _LETTERS

    def _is_comment(self, line: Line) -> bool:
        text = line.text.lstrip()
        if not text.startswith(_MARKED) or text.startswith("***"):
            return False
        self.comments.append(line)
        if not line.text.startswith("**"):
            said = "comments do not begin with ** in columns 1 and 2"
            self.book.odd("nc-comment-odd", said, line.number)
        return True

    def _data(self, line: Line) -> None:
        if self.blocks:
            self.blocks[-1][2].append(line)
            return
        self.strays.append(line)
        text = "lines stand between the header and the first block; they were kept as they stand"
        self.book.warn("nc-text-stray", text, line.number)

    def _behind_end(self, lines: Sequence[Line]) -> None:
        for line in lines:
            if not line.text.strip():
                continue
            if line.text.startswith("**"):
                self.comments.append(line)
                continue
            self.strays.append(line)
            text = "lines stand behind EN; they were kept as they stand"
            self.book.warn("nc-text-behind-end", text, line.number)
