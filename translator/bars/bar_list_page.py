"""The printable bar list: what to load in what order, and each bar drawn with what comes off it.

Bars that are cut alike are drawn once. One page that loads nothing; the caution stands at the
foot of every sheet of paper.
"""

from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from translator.bars.bar_picture import Run, bar_picture, run_numbers, runs
from translator.bars.bar_tables import (
    common_units,
    drop_words,
    lay_words,
    left,
    loading,
    marks,
    numbers_text,
    totals,
    unplaced,
)
from translator.bars.page_frame import framed, said
from translator.bars.plan_model import Plan, PlannedBar, PlannedGroup
from translator.bars.row_table import rows_table
from translator.bars.wording import Units, length_words, many
from translator.model import Angle, Flat
from translator.pages._html import escaped
from translator.tables.designations import parse_section

_LONG: Final = 25
"""Rows of a bar's table beyond which it may run over to the next sheet."""

_USUAL_LEG_MM: Final = 100.0
_CUTS: Final = {
    "saw": "saw kerf",
    "slug": "slug of the shear",
    "single": "single shear cut",
    "none": "pieces come cut to length",
}


class _Alike(Struct, frozen=True, kw_only=True):
    """Bars that are cut alike out of equal lengths."""

    bars: tuple[PlannedBar, ...]

    @property
    def one(self) -> PlannedBar:
        return self.bars[0]


def bar_list_page(plan: Plan, title: str = "Bar list") -> str:
    """Return the bar list of a plan as one page; the same bytes every time."""
    return framed(title, _body(plan, title))


def _body(plan: Plan, title: str) -> Iterator[str]:
    yield f"<h1>{escaped(title)}: <bdi>{escaped(plan.machine)}</bdi></h1>\n"
    yield from said(_options(plan))
    yield from unplaced(plan)
    yield from totals(plan)
    yield from loading(plan)
    if plan.bars:
        yield _KEY
    for group in plan.groups:
        yield from _group(plan, group)
    yield from marks(plan)
    yield from left(plan)
    for remark in plan.remarks:
        yield f"<p>{escaped(remark)}</p>\n"


def _options(plan: Plan) -> Iterator[tuple[str, str]]:
    own, units = plan.options, common_units(plan)
    loss = f", {length_words(own.loss_mm, units)}" if own.loss_mm else ""
    yield "between pieces", f"{_CUTS[own.cut]}{loss}"
    yield "front trim", length_words(own.front_trim_mm, units)
    yield "dead length at the tail", length_words(own.tail_mm, units)
    yield "least remnant", length_words(own.least_remnant_mm, units)
    yield "bars", str(len(plan.bars))
    yield "pieces", str(sum(len(bar.pieces) for bar in plan.bars))


def _alike(plan: Plan, group: int | None = None) -> list[_Alike]:
    """Return the bars that are cut alike, by the first of them."""
    found: dict[tuple[object, ...], list[PlannedBar]] = {}
    for bar in plan.bars:
        if group is None or bar.group == group:
            lay = (bar.heel, bar.long_leg, bar.lead_end)
            key = (bar.group, bar.pattern, bar.length_mm, *lay, bar.drop.kind, bar.drop.length_mm)
            found.setdefault(key, []).append(bar)
    return [_Alike(bars=tuple(bars)) for bars in found.values()]


def _group(plan: Plan, group: PlannedGroup) -> Iterator[str]:
    alike = _alike(plan, group.number)
    if not alike:
        return
    grade = f" <bdi>{escaped(group.grade)}</bdi>" if group.grade else ""
    full = max(item.one.length_mm for item in alike)
    yield (
        f"<h2><bdi>{escaped(group.section)}</bdi>{grade} <small>to scale along the bar,"
        f" {escaped(length_words(full, group.units))} over the full width</small></h2>\n"
    )
    for item in alike:
        yield from _pattern(group, item, full)


_KEY: Final = (
    "<p>Bars as drawn: lead end left, the edge at the heel's place at the bottom; lengths to scale,"
    " across not.</p>\n"
    '<p class="key"><span><b></b>piece</span><span><b class="k-kerf"></b>cut</span>'
    '<span><b class="k-waste"></b>trim and waste</span>'
    '<span><b class="k-remnant"></b>remnant: keep and label</span>'
    '<span><b class="k-scrap"></b>scrap</span>'
    '<span><b class="k-tail"></b>dead length begins</span></p>\n'
)


def _pattern(group: PlannedGroup, item: _Alike, full_mm: float) -> Iterator[str]:
    bar, units = item.one, group.units
    own = runs(bar)
    kind = "pattern long" if len(own) > _LONG else "pattern"
    bars = numbers_text([each.number for each in item.bars])
    word = "bar" if len(item.bars) == 1 else "bars"
    lay = escaped(f"{words}, ") if (words := lay_words(bar, units)) else ""
    yield f'<section class="{kind}"><h3><span class="times">x {len(item.bars)}</span>'
    yield (
        f"{word} {bars}: {escaped(length_words(bar.length_mm, units))}, {lay}"
        f"{many(len(bar.pieces), 'piece')}, {escaped(drop_words(item.bars, units))}</h3>\n"
    )
    picture = bar_picture(bar, units, full_mm, _legs(bar, units))
    yield f"<figure>{picture}</figure>\n"
    yield rows_table(
        f"Pieces of {word} {bars}, from the lead end",
        ("no.", "pieces", "mark", "order", "rev.", "length", "leads", "from", "to", "file"),
        [_run_row(run, units) for run in own],
        numeric=(0, 1, 5, 7, 8),
        has_title=False,
    )
    yield "</section>\n"


def _run_row(run: Run, units: Units) -> tuple[str, ...]:
    piece = run.first
    return (
        run_numbers(run),
        str(len(run.pieces)),
        piece.mark,
        piece.order or "",
        piece.revision or "",
        length_words(piece.length_mm, units),
        f"{piece.placement.lead_end} end, leg a {piece.placement.leg_a}",
        length_words(piece.lead_mm, units),
        length_words(run.last.trail_mm, units),
        piece.source,
    )


def _legs(bar: PlannedBar, units: Units) -> tuple[float, float]:
    """Return the size across of what lies left and right; a usual one for a name not known."""
    section = parse_section(bar.section, units).section
    if isinstance(section, Flat):
        return section.width_mm, section.width_mm
    if not isinstance(section, Angle):
        return _USUAL_LEG_MM, _USUAL_LEG_MM
    is_left = not bar.pieces or bar.pieces[0].placement.leg_a == "left"
    legs = section.leg_a_mm, section.leg_b_mm
    return legs if is_left else legs[::-1]
