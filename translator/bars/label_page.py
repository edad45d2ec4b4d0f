"""Labels as a page to print: sheets of labels, or a roll with one label after the other."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

from translator.bars.label_layout import SetLine, SheetSize, set_texts
from translator.bars.labels import Label
from translator.bars.letters import text_width
from translator.findings import CAUTION
from translator.pages._html import escaped, page
from translator.pages._picture import number
from translator.source import printable

Code = Callable[[str], tuple[int, str] | None]
"""From a text to the size of its code in modules and a path that draws it; None if too long."""

_BORDER_MM: Final = 2.0
_CODE_SHARE: Final = 0.36
_MOST_CODE_MM: Final = 30.0
_CAUTION_MM: Final = 7.0


def labels_page(
    labels: Iterable[Label], sheet: SheetSize, *, skip: int = 0, code: Code | None = None
) -> str:
    """Return labels as a page; on paper one sheet after the other.

    Args:
        labels: the labels.
        sheet: their size and that of the paper; at least one label must fit.
        skip: places of the first sheet that are already used up.
        code: draws a code that a machine reads; None for none.
    """
    every = list(labels)
    return page(
        title="Labels",
        body=_body(every, sheet, skip, code),
        styles=("labels.css",),
        rules=(
            f"@page {{ size: {number(sheet.paper_width)}mm {number(sheet.paper_height)}mm;"
            " margin: 0; }\n"
            f".sheet {{ width: {number(sheet.paper_width)}mm;"
            f" height: {number(sheet.paper_height)}mm; }}\n"
        ),
    )


def _body(labels: Sequence[Label], sheet: SheetSize, skip: int, code: Code | None) -> Iterator[str]:
    yield '<main><h1 class="unseen">Labels</h1>\n'
    yield f'<p class="caution">{escaped(CAUTION)}</p>\n'
    places: list[Label | None] = [*[None] * skip, *labels]
    for first in range(0, len(places), sheet.per_sheet):
        yield from _sheet(places[first : first + sheet.per_sheet], sheet, code)
    yield "</main>\n"


def _sheet(places: Sequence[Label | None], sheet: SheetSize, code: Code | None) -> Iterator[str]:
    """Yield one sheet; it is one drawing, so that nothing moves when it is printed."""
    width, height = number(sheet.paper_width), number(sheet.paper_height)
    held = [one for one in places if one is not None]
    names = f"{len(held)} labels, {held[0].part.mark} to {held[-1].part.mark}" if held else "none"
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet" role="img"'
        f' viewBox="0 0 {width} {height}" aria-label="{escaped(names)}">'
    )
    for number_, label in enumerate(places):
        if label is not None:
            left, top = sheet.place(number_)
            yield f'<g transform="translate({number(left)} {number(top)})">'
            yield from _label(label, sheet, code)
            yield "</g>"
    border = sheet.place(0)[1]
    if border >= _CAUTION_MM:
        size = (sheet.paper_width - 2.0 * _CAUTION_MM) / text_width(CAUTION, 1.0)
        middle, low = sheet.paper_width / 2.0, sheet.paper_height - border / 2.0
        yield (
            f'<text class="line" x="{number(middle)}" y="{number(low)}"'
            f' font-size="{number(size)}" text-anchor="middle">{escaped(CAUTION)}</text>'
        )
    yield "</svg>\n"


def _label(label: Label, sheet: SheetSize, code: Code | None) -> Iterator[str]:
    width, height = sheet.label_width, sheet.label_height
    yield f'<rect class="edge" width="{number(width)}" height="{number(height)}"/>'
    border = min(_BORDER_MM, height / 10.0)
    room, drawn = width - 2.0 * border, None
    if code is not None:
        drawn = code(label.code)
    if drawn is not None:
        modules, path = drawn
        side = min(height - 2.0 * border, width * _CODE_SHARE, _MOST_CODE_MM)
        scale = side / modules
        left = width - border - side
        yield (
            f'<path class="code" transform="translate({number(left)} {number(border)})'
            f' scale({scale:.5f})" d="{path}"/>'
        )
        room -= side + border
    for line in set_texts(
        printable(label.part.mark), label_lines(label), room, height - 2 * border
    ):
        yield _text(line, border)


def _text(line: SetLine, border: float) -> str:
    return (
        f'<text class="{line.kind}" x="{number(border)}" y="{number(border + line.baseline)}"'
        f' font-size="{line.size:.3f}">{escaped(line.text)}</text>'
    )


def label_lines(label: Label) -> list[str]:
    """Return what stands below the mark, the most needed first."""
    part = label.part
    bars = ", ".join(label.bars)
    piece = f" no. {label.bar_piece}" if label.bar_piece else ""
    said = (
        (("order", part.order), ("dwg", part.drawing), ("rev", part.revision)),
        (("", label.section), ("", label.length), ("", part.grade)),
        (("", label.quantity_words),),
        (("heat", label.heat), ("", f"{bars}{piece}" if bars else "")),
        (("release", label.release),),
        (("phase", part.phase), ("lot", part.lot), ("", part.finish)),
        (("", part.title),),
        (("then:", ", ".join(part.second_work)),),
    )
    return [words for line in said if (words := _joined(line))]


def _joined(facts: Iterable[tuple[str, str | None]]) -> str:
    return "  ".join(
        printable(f"{word} {value}" if word else value) for word, value in facts if value
    )
