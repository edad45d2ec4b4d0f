"""The sheet on which a first piece is measured: one page a leg, to be printed and filled in.

Every dimension has a number that stands in a balloon on the picture, its nominal size in the
author's units, how far it may be off and who says so, and blank boxes.
"""

from collections.abc import Iterator
from typing import Final

from msgspec import Struct, field
from msgspec.structs import replace

from translator.findings import CAUTION
from translator.model import LegName, Part, leg_names
from translator.pages._dimensions import Dimension, dimensions
from translator.pages._html import escaped, page
from translator.pages._layout import Layout, lay_out
from translator.pages._legs import Callout, leg_picture
from translator.pages._svg import svg
from translator.pages._tolerances import Allowed, Code, ShopTolerances, allowed
from translator.pages._words import both, bound, leg_words, named_length, section_words

_LETTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_TALL: Final = 420.0
"""A picture higher than this, in units, may take more of the page."""

_BLANKS: Final = ("heat", "machine", "piece", "inspector", "date")


class Sheet(Struct, frozen=True, kw_only=True):
    """What a sheet is made from.

    Attributes:
        part: the part.
        code: the practice it is judged by, which chooses the standards.
        shop: what the shop says of tolerances.
    """

    part: Part
    code: Code
    shop: ShopTolerances = field(default_factory=ShopTolerances)


class _Line(Struct, frozen=True, kw_only=True):
    number: int
    what: Dimension
    allowed: Allowed


def render(sheet: Sheet) -> str:
    """Return the sheet of a part as one page that loads nothing; the same bytes every time."""
    part = sheet.part
    layout = lay_out(part)
    numbered: list[tuple[LegName, list[_Line]]] = []
    number = 1
    for leg in leg_names(part):
        lines = [
            _Line(number=at, what=what, allowed=_allowed(sheet, what))
            for at, what in enumerate(dimensions(part, leg), start=number)
        ]
        number += len(lines)
        numbered.append((leg, lines))
    sources = dict.fromkeys(
        (line.allowed.source, line.allowed.trust) for _, own in numbered for line in own
    )
    letters = {source: _letter(index) for index, source in enumerate(sources)}
    return page(
        title=f"First piece {part.mark}",
        body=(
            f'<main><h1 class="unseen">First-piece inspection of {escaped(part.mark)}</h1>\n',
            *(text for leg, own in numbered for text in _leg(sheet, leg, own, layout, letters)),
            "</main>\n",
        ),
        styles=("picture.css", "sheet.css"),
    )


def _allowed(sheet: Sheet, what: Dimension) -> Allowed:
    size = what.depth_mm if what.size_mm is None else what.size_mm
    return allowed(sheet.part, what.quantity, size, shop=sheet.shop, code=sheet.code)


def _letter(index: int) -> str:
    return _LETTERS[index] if index < len(_LETTERS) else str(index)


def _leg(
    sheet: Sheet,
    leg: LegName,
    lines: list[_Line],
    layout: Layout,
    letters: dict[tuple[str, str], str],
) -> Iterator[str]:
    part = sheet.part
    name = leg_words(leg)
    yield f'<section aria-label="{escaped(name)}">\n{"".join(_head(part, name))}'
    picture = leg_picture(part, leg, layout, _callouts(lines))
    kind = ' class="tall"' if picture.height > _TALL else ""
    yield f"<figure{kind}>{svg(picture)}</figure>\n"
    yield "".join(_table(part, lines, letters))
    yield f'<p class="caution">{escaped(CAUTION)}</p></section>\n'


def _callouts(lines: list[_Line]) -> list[Callout]:
    """Return one balloon for each place and side, with the numbers of all measured there."""
    wishes: dict[Callout, list[int]] = {}
    for line in lines:
        if line.what.at is not None:
            wishes.setdefault(line.what.at, []).append(line.number)
    return [replace(at, text=_joined(numbers)) for at, numbers in wishes.items()]


def _joined(numbers: list[int]) -> str:
    is_run = len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1  # noqa: PLR2004
    return f"{numbers[0]}-{numbers[-1]}" if is_run else ", ".join(map(str, numbers))


def _head(part: Part, name: str) -> Iterator[str]:
    yield '<header><p class="title"><strong>First piece</strong> '
    yield f'<bdi class="mark">{escaped(part.mark)}</bdi> '
    yield f"<span>{name}, outside face</span></p>\n<dl>"
    said = (
        ("title", part.title),
        ("section", section_words(part)),
        ("length", both(part.length_mm, part)),
        ("quantity", str(part.quantity)),
        ("grade", part.grade),
        ("order", part.order),
        ("drawing", part.drawing),
        ("revision", part.revision or "none stated"),
        ("finish", part.finish),
    )
    for word, value in said:
        if value:
            yield f"<div><dt>{word}</dt><dd><bdi>{escaped(value)}</bdi></dd></div>"
    for word in _BLANKS:
        yield f'<div class="blank"><dt>{word}</dt><dd></dd></div>'
    yield "</dl></header>\n"


def _table(part: Part, lines: list[_Line], letters: dict[tuple[str, str], str]) -> Iterator[str]:
    head = ("No.", "Dimension", "Nominal", "Tolerance", "Accept", "By", "Measured", "Initials")
    cells = "".join(f'<th scope="col">{word}</th>' for word in head)
    yield f"<table><thead><tr>{cells}</tr></thead>\n<tbody>"
    for line in lines:
        what, may = line.what, line.allowed
        nominal = what.nominal if what.size_mm is None else named_length(what.size_mm, part)
        by = letters[may.source, may.trust]
        row = (escaped(what.what), escaped(nominal), escaped(may.text) or "&mdash;")
        yield f'<tr><th scope="row">{line.number}</th><td>{"</td><td>".join(row)}</td>'
        yield f"<td>{escaped(_accept(part, what, may))}</td><td>{by}</td><td></td><td></td></tr>\n"
    yield "</tbody></table>\n"
    used = dict.fromkeys((line.allowed.source, line.allowed.trust) for line in lines)
    yield '<ul class="sources">'
    for source, trust in used:
        words = source if trust in (source, "none") else f"{source}; {trust}"
        yield f"<li><b>{letters[source, trust]}</b> {escaped(words)}</li>"
    yield "</ul>\n"


def _accept(part: Part, what: Dimension, may: Allowed) -> str:
    """Return the least and the greatest size that is accepted, "" where there is no figure."""
    if may.upper_mm is None:
        return ""
    unit = "in." if part.units == "inch" else "mm"
    if what.size_mm is None:
        return f"off by up to {bound(may.upper_mm, part, is_upper=True)} {unit}"
    top = bound(what.size_mm + may.upper_mm, part, is_upper=True)
    if may.lower_mm is None:
        return f"up to {top} {unit}"
    return f"{bound(what.size_mm + may.lower_mm, part, is_upper=False)} to {top} {unit}"
