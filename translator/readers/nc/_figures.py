"""Numbers as files write them: decimal commas, glued letters, columns that touch, overflows."""

import math
import re
from typing import Final

from msgspec import Struct

from translator.readers.nc._book import Book
from translator.readers.nc._tree import ROW_CODES, Line, Sheet

LARGEST: Final = 1_000_000.0
"""No figure of a part file is larger; one that is comes from a fault."""

_LONGEST_FIGURE: Final = 24
_DECIMALS: Final = 2
_MOST_FIGURES: Final = 40
_TOKEN: Final = re.compile(
    r"(?P<number>[+-]?(?:\d[\d.,]*|[.,]\d[\d.,]*)(?:[eE][+-]?\d{1,3}(?![0-9.,]))?)"
    r"|(?P<letters>[A-Za-z]+)|(?P<stars>\*+)|(?P<other>[^\s])"
)
_COMMENT: Final = re.compile(r"(?:(?<!\*)\*\*(?!\*)|;|//)\s*[^\s;,].*$")
_THOUSANDS: Final = re.compile(r"[+-]?\d{1,3}(?:,\d{3})+\.\d*|[+-]?\d{1,3}(?:\.\d{3})+,\d*")
_THREE_BEHIND: Final = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
_ONE_COMMA: Final = re.compile(r"[+-]?\d*,\d*")
_NUMBER_TEXT: Final = re.compile(r"[0-9][0-9.,]*")


class Figure(Struct, frozen=True, kw_only=True):
    """One number of a row, with the letters that belong to it (small) and its columns."""

    value: float
    text: str
    letters: str
    column: int
    end: int


class Row(Struct, frozen=True, kw_only=True):
    """One data line: the view letter (small, "" when it has none) and its numbers."""

    line: Line
    view: str
    figures: tuple[Figure, ...]


def decimal_commas_proven(sheet: Sheet) -> bool:
    """Tell whether a sheet writes decimal commas beyond doubt: "40,00" is no thousands comma."""
    lines = [line for line in sheet.fields[9:14] if line is not None]
    lines += [row for block in sheet.blocks if block.code in ROW_CODES for row in block.rows]
    for line in lines:
        for text in _NUMBER_TEXT.findall(line.text):
            whole, comma, behind = text.partition(",")
            if comma and behind.isdigit() and len(behind) != 3 and whole.isdigit():  # noqa: PLR2004
                return True
    return False


class Scanner(Struct, frozen=True, kw_only=True):
    """Reads the numbers of lines under one rule for commas.

    Attributes:
        comma: "yes" when a comma is a decimal mark, "no" when it is none, "open" when only
            the text itself can tell.
        book: where faults are told.
    """

    comma: str
    book: Book

    def row(self, line: Line, most: int | None = None) -> tuple[Row, int] | None:
        """Read a data line.

        Args:
            line: the line.
            most: stop behind this many numbers.

        Returns:
            The row and the index in the text behind its last number; None (and an error in
            the book) when the line cannot be read.
        """
        text = line.text
        comment = _COMMENT.search(text) if most is None else None
        if comment is not None and len(_NUMBER_TEXT.findall(text[: comment.start()])) > 1:
            said = "comments stand behind data; they were kept as they stand"
            self.book.odd("nc-comment-behind-data", said, line.number, comment.start() + 1)
            self.book.carry(line.number)
            text = text[: comment.start()]
        self._layout(line)
        return _Reading(scanner=self, line=line, text=text, most=most).run()

    def single(self, line: Line, what: str) -> float | None:
        """Read a header line that holds one number; None (and an error) when it does not."""
        text = line.text.strip()
        bare = text.rstrip(",; ").removesuffix("mm").rstrip()
        if bare != text:
            said = "signs stand behind header numbers; they were passed over"
            self.book.odd("nc-number-odd", said, line.number)
        if "*" in bare:
            self.overflow(line, 1)
            return None
        values = self.values(bare, line, 1)
        if values is None or len(values) != 1:
            if values is not None:
                said = f"{what} is {bare!r}, which is no single number"
                self.book.refuse("nc-number-unreadable", said, line.number)
            return None
        return values[0]

    def _layout(self, line: Line) -> None:
        if "\t" in line.text:
            self.book.odd("nc-tab", "tabs were read as blanks", line.number)
        if not line.text[:1].isspace():
            said = "data lines begin in column 1, where only block codes stand"
            self.book.odd("nc-not-indented", said, line.number)

    def overflow(self, line: Line, column: int) -> None:
        """Report a number that its writer could not fit into its column."""
        text = "a number is written as asterisks: it did not fit its column and is lost"
        self.book.refuse("nc-number-overflow", text, line.number, column)

    def values(self, text: str, line: Line, column: int) -> list[float] | None:
        """Turn the text between two blanks into its numbers; mostly one.

        Returns:
            The numbers, or None with an error in the book.
        """
        bare = text.rstrip(",")
        if bare != text:
            said = "commas or semicolons end a number or a line; they were passed over"
            self.book.odd("nc-number-odd", said, line.number, column)
        parts, fault = self._split(bare, line, column)
        if fault is None:
            values = [_finite(part) for part in parts]
            if None not in values:
                return [value for value in values if value is not None]
            fault = f"{bare[:_LONGEST_FIGURE]!r} is no number between -1,000,000 and 1,000,000"
        self.book.refuse("nc-number-unreadable", fault, line.number, column)
        return None

    def _split(self, text: str, line: Line, column: int) -> tuple[list[str], str | None]:
        """Split at separating commas and turn decimal commas into points."""
        if "," not in text:
            glued = text.count(".") > 1
            said = f"{text[:_LONGEST_FIGURE]!r} is two numbers run together; where one ends is open"
            return [text], said if glued else None
        if _THOUSANDS.fullmatch(text):
            said = "numbers have thousands separators; they were left out"
            self.book.warn("nc-thousands", said, line.number, column)
            last = max(text.rfind(","), text.rfind("."))
            return [text[:last].replace(",", "").replace(".", "") + "." + text[last + 1 :]], None
        if "." in text:
            said = "commas stand between numbers; they were read as blanks"
            self.book.odd("nc-comma-between", said, line.number, column)
            parts = text.split(",")
            odd = any("." not in part or part.count(".") > 1 for part in parts)
            return parts, f"{text!r} mixes points and commas" if odd else None
        return self._decimal_comma(text, line, column)

    def _decimal_comma(self, text: str, line: Line, column: int) -> tuple[list[str], str | None]:
        shown = text[:_LONGEST_FIGURE]
        if self.comma == "no":
            return [], f'{shown!r} has a comma, and decimal_comma is set to "no"'
        if not _ONE_COMMA.fullmatch(re.sub(r"[eE].*", "", text)):
            return [], f"{shown!r} has more than one comma"
        if self.comma == "open" and _THREE_BEHIND.fullmatch(text):
            whole, _, behind = text.partition(",")
            return [], (
                f"{shown!r} may be {whole}.{behind} or {whole}{behind}; set decimal_comma under"
                " [nc] in backmark.toml"
            )
        said = "decimal commas instead of points"
        self.book.odd("nc-decimal-comma", said, line.number, column)
        return [text.replace(",", ".")], None


def _finite(text: str) -> float | None:
    if len(text) > _LONGEST_FIGURE:
        return None
    try:
        value = float(text)
    except ValueError:
        return None
    return value + 0.0 if math.isfinite(value) and abs(value) <= LARGEST else None


def _decimals(text: str) -> int:
    """Count the decimals of a number that are not 0."""
    digits = text.lower().partition("e")[0].strip(",").replace(",", ".").partition(".")[2]
    return len(digits.rstrip("0"))


class _Reading:
    """Reads one data line from left to right."""

    __slots__ = ("end", "figures", "line", "most", "scanner", "text", "view")

    def __init__(self, *, scanner: Scanner, line: Line, text: str, most: int | None) -> None:
        self.scanner, self.line, self.text, self.most = scanner, line, text, most
        self.view = ""
        self.figures: list[Figure] = []
        self.end = 0

    def run(self) -> tuple[Row, int] | None:
        """Read the tokens in order; None with an error in the book when one does not fit."""
        for token in _TOKEN.finditer(self.text):
            if self.most is not None and len(self.figures) >= self.most:
                break
            if len(self.figures) > _MOST_FIGURES:
                text = f"a row holds more than {_MOST_FIGURES} figures"
                self.scanner.book.refuse("nc-row-unreadable", text, self.line.number)
                return None
            if not self._take(token):
                return None
            self.end = token.end()
        row = Row(line=self.line, view=self.view, figures=tuple(self.figures))
        return row, self.end

    def _take(self, token: re.Match[str]) -> bool:
        column = token.start() + 1
        book, number = self.scanner.book, self.line.number
        if token.lastgroup == "number":
            return self._number(token)
        if token.lastgroup == "letters":
            return self._letters(token)
        if token.lastgroup == "stars":
            self.scanner.overflow(self.line, column)
            return False
        if token.group() in ",;":
            said = "commas or semicolons end a number or a line; they were passed over"
            book.odd("nc-number-odd", said, number, column)
            return True
        said = f"{token.group()!r} cannot stand in a row of numbers"
        book.refuse("nc-row-unreadable", said, number, column)
        return False

    def _number(self, token: re.Match[str]) -> bool:
        column, text = token.start() + 1, token.group()
        book = self.scanner.book
        if self.figures and token.start() == self.end and self.figures[-1].end == column:
            book.odd("nc-numbers-touch", "numbers touch; they were split", self.line.number, column)
        if text[0] == "+" or "e" in text.lower():
            said = "numbers have a plus sign or an exponent"
            book.odd("nc-number-odd", said, self.line.number, column)
        if any(_decimals(part) > _DECIMALS for part in text.split("," if "." in text else None)):
            said = f"numbers have more than {_DECIMALS} decimals; they were used as written"
            book.odd("nc-many-decimals", said, self.line.number, column)
        values = self.scanner.values(text, self.line, column)
        if values is None:
            return False
        self.figures += [
            Figure(value=value, text=text, letters="", column=column, end=token.end() + 1)
            for value in values
        ]
        return True

    def _letters(self, token: re.Match[str]) -> bool:
        column, letters = token.start() + 1, token.group().lower()
        book, number = self.scanner.book, self.line.number
        if token.group() != letters:
            said = "view, reference or kind letters are written as capitals"
            book.odd("nc-capital-letters", said, number, column)
        if not self.figures:
            if self.view or letters not in ("v", "o", "u", "h"):
                said = f"{token.group()!r} is no view letter (v, o, u or h)"
                book.refuse("nc-row-unreadable", said, number, column)
                return False
            self.view = letters
            return True
        last = self.figures[-1]
        if last.letters or len(letters) > 1:
            said = f"{token.group()!r} behind {last.text} is no letter that the format knows"
            book.refuse("nc-row-unreadable", said, number, column)
            return False
        if token.start() + 1 != last.end:
            said = "a blank stands between a number and its letter"
            book.odd("nc-letter-apart", said, number, column)
        self.figures[-1] = Figure(
            value=last.value, text=last.text, letters=letters, column=last.column, end=last.end
        )
        return True
