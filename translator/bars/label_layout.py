"""How the texts of a label are set so that none leaves it, and how labels fill a sheet."""

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from translator.bars.letters import text_width

PAPERS: Final = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height of a sheet in millimetres (ISO 216; ANSI/ASME Y14.1)."""

LEAST_MM: Final = 15.0
MOST_MM: Final = 500.0

_LINE: Final = 1.22
"""Height of a line as a share of its letters' size."""

_LARGEST: Final = 0.26
"""Letters of the mark are at most this share of the label's height."""

_LEAST_LETTERS_MM: Final = 1.5
_SMALLER: Final = 0.94
_MARK: Final = 2.2
"""How much larger than the other letters the mark is, where there is room."""

_MOST_MARK_LINES: Final = 4


class SheetSize(Struct, frozen=True, kw_only=True):
    """A sheet of labels, millimetres. A roll is a sheet of one label without a margin.

    Attributes:
        label_width: of one label.
        label_height: of one label.
        paper_width: of the sheet.
        paper_height: of the sheet.
        margin: least border of the sheet that is not printed on.
        gap: between labels.
    """

    label_width: float
    label_height: float
    paper_width: float
    paper_height: float
    margin: float = 0.0
    gap: float = 0.0

    @property
    def columns(self) -> int:
        """Labels beside each other; 0 when not one fits."""
        return _fitting(self.paper_width - 2.0 * self.margin, self.label_width, self.gap)

    @property
    def rows(self) -> int:
        """Labels below each other; 0 when not one fits."""
        return _fitting(self.paper_height - 2.0 * self.margin, self.label_height, self.gap)

    @property
    def per_sheet(self) -> int:
        """Labels of one sheet."""
        return self.columns * self.rows

    def place(self, number: int) -> tuple[float, float]:
        """Return left and top of a label of a sheet, counted from 0 row by row; centred."""
        row, column = divmod(number, self.columns)
        across = self.columns * (self.label_width + self.gap) - self.gap
        down = self.rows * (self.label_height + self.gap) - self.gap
        left = (self.paper_width - across) / 2.0 + column * (self.label_width + self.gap)
        top = (self.paper_height - down) / 2.0 + row * (self.label_height + self.gap)
        return left, top


def _fitting(room: float, size: float, gap: float) -> int:
    return max(0, int((room + gap + 1e-6) / (size + gap)))


class SetLine(Struct, frozen=True, kw_only=True):
    """One line of text: its baseline from the top of the box, size of its letters, kind."""

    text: str
    baseline: float
    size: float
    kind: str


def set_texts(mark: str, lines: Sequence[str], width: float, height: float) -> tuple[SetLine, ...]:
    """Set a mark large and lines below it into a box; no line leaves the box.

    Letters shrink and long lines are broken until all fits. Where even the smallest letters
    are too large, what is left over is cut off and the last line says so with ``~``.
    """
    size = height * _LARGEST / _MARK
    while True:
        marked = _mark_lines(mark, size * _MARK, width)
        if marked is not None:
            laid = (*marked, *_broken_all(lines, size, width))
            if _height(laid) <= height + 1e-9 and all(_is_within(one, width) for one in laid):
                return tuple(_stacked(laid))
        if size * _SMALLER < _LEAST_LETTERS_MM:
            return tuple(_stacked(_cut_off(mark, lines, width, height)))
        size *= _SMALLER


Laid = tuple[str, float, str]
"""Text, size of its letters, kind."""


def _is_within(laid: Laid, width: float) -> bool:
    """Tell whether a line fits; a single wide letter may be wider than a narrow label."""
    return text_width(laid[0], laid[1]) <= width + 1e-9


def _mark_lines(mark: str, size: float, width: float) -> list[Laid] | None:
    """Return the mark on as few lines as it takes; None when it takes too many."""
    least = size / _MARK * 1.15
    one = min(size, width / max(text_width(mark, 1.0), 1e-9))
    if one >= max(least, size * 0.6):
        return [(mark, one, "mark")]
    pieces = broken(mark, width, size * 0.6)
    if len(pieces) > _MOST_MARK_LINES:
        return None
    return [(piece, size * 0.6, "mark") for piece in pieces]


def _broken_all(lines: Sequence[str], size: float, width: float) -> Iterator[Laid]:
    for line in lines:
        for piece in broken(line, width, size):
            yield piece, size, "line"


def _cut_off(mark: str, lines: Sequence[str], width: float, height: float) -> list[Laid]:
    """Return as many of the smallest lines as fit, the mark first."""
    size = _LEAST_LETTERS_MM
    marked = [(piece, size * 1.2, "mark") for piece in broken(mark, width, size * 1.2)]
    every = [*marked, *_broken_all(lines, size, width)]
    kept: list[Laid] = []
    for laid in every:
        if _height([*kept, laid]) > height + 1e-9:
            break
        kept.append(laid)
    if kept and len(kept) < len(every):
        text, own, kind = kept[-1]
        while text and text_width(f"{text}~", own) > width + 1e-9:
            text = text[:-1]
        kept[-1] = (f"{text}~", own, kind)
    return kept


def _height(laid: Sequence[Laid]) -> float:
    return sum(size * _LINE for _, size, _ in laid)


def _stacked(laid: Sequence[Laid]) -> Iterator[SetLine]:
    top = 0.0
    for text, size, kind in laid:
        yield SetLine(text=text, baseline=top + size * 0.95, size=size, kind=kind)
        top += size * _LINE


def broken(text: str, width: float, size: float) -> list[str]:
    """Break a text into lines of at most a width.

    Where two blanks part two facts it is broken there, so that a length keeps its fraction;
    else at one blank; a word that is longer than a line anywhere.
    """
    lines: list[str] = []
    rest = text.strip()
    while rest and text_width(rest, size) > width + 1e-9:
        count = 1
        while count < len(rest) and text_width(rest[: count + 1], size) <= width + 1e-9:
            count += 1
        end = _break_at(rest, count)
        lines.append(rest[:end].rstrip())
        rest = rest[end:].lstrip()
    return [*lines, rest] if rest or not lines else lines


def _break_at(text: str, most: int) -> int:
    """Return where to break a text of which only the first characters fit, at least one."""
    between_facts = text.rfind("  ", 1, most + 2)
    between_words = text.rfind(" ", 1, most + 1)
    for place, least in ((between_facts, most // 4), (between_words, most // 3)):
        if max(1, least) <= place <= most:
            return place
    return most
