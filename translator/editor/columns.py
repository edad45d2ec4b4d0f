"""Places as an editor counts them: lines from 0, columns in the units that it was agreed on.

Here lines and columns count from 1 and columns in characters; an editor's columns are most
often units of UTF-16, of which a character beyond U+FFFF takes two.
"""

from typing import Final, NamedTuple

from translator.source import Span, lines_of

_BEYOND: Final = 0xFFFF


class Spot(NamedTuple):
    """A place as an editor counts it, both from 0."""

    line: int
    column: int


class Stretch(NamedTuple):
    """From one place up to another."""

    begin: Spot
    end: Spot


class Columns:
    """The lines of one text, and its columns in the units of an editor.

    Attributes:
        encoding: the units: "utf-8", "utf-16" or "utf-32".
    """

    def __init__(self, text: str, encoding: str = "utf-16") -> None:
        self.encoding = encoding
        self._lines = lines_of(text)

    @property
    def end(self) -> Spot:
        """The end of the text."""
        return Spot(len(self._lines) - 1, self._width(self._lines[-1]))

    def stretch(self, place: Span | tuple[int, int, int, int]) -> Stretch:
        """Return a place as an editor counts it.

        Args:
            place: a ``Span`` of this text, or line, column, end line and end column.
        """
        line, column, end_line, end_column = place[-4:]
        return Stretch(self.spot(line, column), self.spot(end_line, end_column))

    def spot(self, line: int, column: int) -> Spot:
        """Return a place, both counted from 1, as an editor counts it; within the text."""
        number = min(max(line, 1), len(self._lines)) - 1
        return Spot(number, self._width(self._lines[number][: max(column - 1, 0)]))

    def place(self, spot: Spot) -> tuple[int, int]:
        """Return line and column, counted from 1 and in characters, of an editor's place."""
        number = min(max(spot.line, 0), len(self._lines) - 1)
        units, column = 0, 1
        for sign in self._lines[number]:
            units += self._width(sign)
            if units > spot.column:
                break
            column += 1
        return number + 1, column

    def before(self, spot: Spot) -> str:
        """Return the text up to an editor's place, its lines ended by a line feed."""
        line, column = self.place(spot)
        return "\n".join([*self._lines[: line - 1], self._lines[line - 1][: column - 1]])

    def _width(self, text: str) -> int:
        if text.isascii() or self.encoding == "utf-32":
            return len(text)
        if self.encoding == "utf-8":
            return len(text.encode("utf-8", "surrogatepass"))
        return len(text) + sum(ord(sign) > _BEYOND for sign in text)
