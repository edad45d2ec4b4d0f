"""A bar drawn to scale along its length, as SVG: pieces, cuts, waste, drop, and what each is.

The bar lies with its lead end left and the edge at the heel's place at the bottom, as the side
that carries the steeper cuts is seen. Across it is not to scale: the band has one height. Where
pieces are too short for their marks, a run of equal pieces has one label on a leader below.
"""

import math
from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from translator.bars.letters import ADVANCE, shortened, text_width
from translator.bars.plan_model import PlannedBar, PlannedCut, PlannedPiece
from translator.bars.wording import Units, length_words
from translator.pages._html import escaped
from translator.pages._picture import number
from translator.source import printable

WIDTH: Final = 1000.0
"""Units across a drawing; a bar takes ``ROOM`` of them, its last labels the rest."""

ROOM: Final = 800.0
BAND_TOP: Final = 20.0
BAND_HEIGHT: Final = 30.0
LETTERS: Final = 12.5
_SMALL: Final = 9.5
_ROW: Final = 16.0
_LONGEST_LABEL: Final = 24
MOST_NAMED: Final = 40
"""Runs of one bar that are labelled by their marks; of more only the numbers are told."""

_GAP: Final = 8.0
_THINNEST: Final = 0.7


class Run(Struct, frozen=True, kw_only=True):
    """Equal pieces that follow each other on a bar."""

    pieces: tuple[PlannedPiece, ...]

    @property
    def first(self) -> PlannedPiece:
        """The piece nearest the lead end."""
        return self.pieces[0]

    @property
    def last(self) -> PlannedPiece:
        """The piece nearest the trailing end."""
        return self.pieces[-1]


class _Scale(Struct, frozen=True, kw_only=True):
    mm: float
    left_mm: float
    right_mm: float
    end_mm: float

    def x(self, mm: float) -> float:
        """Return where a place of the bar stands; what is cut beyond its ends is not there."""
        return min(max(mm, 0.0), self.end_mm) * ROOM / self.mm


def runs(bar: PlannedBar) -> tuple[Run, ...]:
    """Return the runs of a bar from its lead end: pieces of one mark that lie alike."""
    out: list[list[PlannedPiece]] = []
    for piece in bar.pieces:
        before = out[-1][-1] if out else None
        if before is not None and _same(before, piece):
            out[-1].append(piece)
        else:
            out.append([piece])
    return tuple(Run(pieces=tuple(pieces)) for pieces in out)


def _same(one: PlannedPiece, two: PlannedPiece) -> bool:
    return (one.order, one.mark, one.revision, one.placement, one.length_mm) == (
        *(two.order, two.mark, two.revision, two.placement, two.length_mm),
    )


def bar_picture(bar: PlannedBar, units: Units, full_mm: float, legs_mm: tuple[float, float]) -> str:
    """Return the drawing of a bar as one ``svg`` element.

    Args:
        bar: the bar.
        units: what labels are in.
        full_mm: length that the whole width of the drawing stands for.
        legs_mm: size across of what lies on the left and on the right side of the machine.
    """
    scale = _Scale(mm=full_mm, left_mm=legs_mm[0], right_mm=legs_mm[1], end_mm=bar.length_mm)
    labels = _labels(bar, units, scale)
    rows = 1 + max((row for _, _, row in labels), default=-1)
    height = BAND_TOP + BAND_HEIGHT + 10.0 + rows * _ROW + 4.0
    inside = (*_steel(bar, scale), *_numbers(bar, scale), *_called(bar, labels, scale))
    title = f"bar of {length_words(bar.length_mm, units)} with {len(bar.pieces)} pieces"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="bar" role="img"'
        f' viewBox="0 0 {number(WIDTH)} {number(height)}" aria-label="{escaped(title)}">'
        f"{''.join(inside)}</svg>"
    )


def _steel(bar: PlannedBar, scale: _Scale) -> Iterator[str]:
    """Yield the bar as waste, and on it the drop and the pieces, each with its own ends."""
    yield _shape("waste", [(0.0, 0.0), (bar.length_mm, bar.length_mm)], scale)
    kind = bar.drop.kind
    behind = _behind(bar, scale)
    if kind != "none" and behind is not None:
        yield _shape(kind, [behind, (bar.length_mm, bar.length_mm)], scale)
        if kind == "remnant":
            yield from _drop_words(bar, behind, scale)
    for piece in bar.pieces:
        ahead = next((c for c in bar.cuts if c.behind == piece.number), None)
        after = next((c for c in bar.cuts if c.ahead == piece.number), None)
        front = _plane(ahead, scale, far=True) if ahead else (piece.lead_mm, piece.lead_mm)
        back = _plane(after, scale) if after else (piece.trail_mm, piece.trail_mm)
        yield _shape("piece", [front, back], scale)
    for cut in bar.cuts:
        yield from _kerf(cut, scale)
    if bar.tail_mm:
        at = number(scale.x(bar.length_mm - bar.tail_mm))
        bottom = number(BAND_TOP + BAND_HEIGHT + 4.0)
        yield f'<path class="tail" d="M{at} {number(BAND_TOP - 4.0)}V{bottom}"/>'


def _behind(bar: PlannedBar, scale: _Scale) -> tuple[float, float] | None:
    """Return where the drop begins, at heel and toe; None for a bar that is not cut."""
    if bar.cuts:
        return _plane(max(bar.cuts, key=lambda cut: cut.heel_mm), scale, far=True)
    if bar.pieces:
        return bar.pieces[-1].trail_mm, bar.pieces[-1].trail_mm
    return 0.0, 0.0


def _plane(cut: PlannedCut, scale: _Scale, *, far: bool = False) -> tuple[float, float]:
    """Return where a plane of a cut stands at the heel and at the toe, bar coordinates."""
    on_left = abs(cut.left_deg) >= abs(cut.right_deg)
    angle = cut.left_deg if on_left else cut.right_deg
    across = scale.left_mm if on_left else scale.right_mm
    heel = cut.heel_mm + (cut.loss_mm if far else 0.0)
    return heel, heel - math.tan(math.radians(angle)) * across


def _shape(kind: str, edges: Sequence[tuple[float, float]], scale: _Scale) -> str:
    (front_heel, front_toe), (back_heel, back_toe) = edges
    top, bottom = number(BAND_TOP), number(BAND_TOP + BAND_HEIGHT)
    return (
        f'<path class="{kind}" d="M{number(scale.x(front_heel))} {bottom}'
        f"L{number(scale.x(front_toe))} {top}L{number(scale.x(back_toe))} {top}"
        f'L{number(scale.x(back_heel))} {bottom}Z"/>'
    )


def _kerf(cut: PlannedCut, scale: _Scale) -> Iterator[str]:
    """Yield the steel that a cut takes, at least as wide as a line that can be seen."""
    thin = max(cut.loss_mm, _THINNEST * scale.mm / ROOM)
    front = _plane(cut, scale)
    back = front[0] + thin, front[1] + thin
    yield _shape("kerf", [front, back], scale)


def _drop_words(bar: PlannedBar, behind: tuple[float, float], scale: _Scale) -> Iterator[str]:
    left, right = scale.x(max(behind)), scale.x(bar.length_mm)
    text = _fitting(printable(bar.drop.label) or "remnant", right - left, LETTERS)
    if text:
        yield _text("on", (left + right) / 2.0, BAND_TOP + 15.0 + LETTERS * 0.36, text, LETTERS)


def _numbers(bar: PlannedBar, scale: _Scale) -> Iterator[str]:
    """Yield the mark in each piece that has room for it, and piece numbers above."""
    for piece in bar.pieces:
        left, right = scale.x(piece.lead_mm), scale.x(piece.trail_mm)
        middle, room = (left + right) / 2.0, right - left
        mark = printable(piece.mark)
        for size in (LETTERS, _SMALL):
            if room >= text_width(mark, size) + 4.0:
                yield _text("on", middle, BAND_TOP + 15.0 + size * 0.36, mark, size)
                break
        count = str(piece.number)
        if room >= text_width(count, _SMALL) + 3.0:
            yield _text("no", middle, BAND_TOP - 6.0, count, _SMALL)


def _labels(bar: PlannedBar, units: Units, scale: _Scale) -> list[tuple[Run, str, int]]:
    """Return the label of each run and its row, such that no label meets another's leader.

    Each stands to the right of its own leader. From the right end on, a label goes one row
    below the lowest leader that it would cross.
    """
    placed: list[tuple[float, int, Run, str]] = []
    own = runs(bar)
    for run in reversed(own):
        words = _run_words(run, units) if len(own) <= MOST_NAMED else run_numbers(run)
        anchor = _middle(run, scale)
        right = anchor + 4.0 + text_width(words, LETTERS) + _GAP
        crossed = [row for at, row, *_ in placed if anchor <= at < right]
        placed.append((anchor, 1 + max(crossed, default=-1), run, words))
    return [(run, words, row) for _, row, run, words in reversed(placed)]


def _middle(run: Run, scale: _Scale) -> float:
    return (scale.x(run.first.lead_mm) + scale.x(run.last.trail_mm)) / 2.0


def run_numbers(run: Run) -> str:
    """Return the numbers of a run's pieces on their bar: "3", "4-21"."""
    first, last = run.first.number, run.last.number
    return str(first) if first == last else f"{first}-{last}"


def _run_words(run: Run, units: Units) -> str:
    count = f"{len(run.pieces)} x " if len(run.pieces) > 1 else ""
    length = length_words(run.first.length_mm, units)
    room = _LONGEST_LABEL - len(count) - len(length) - 2
    return f"{count}{shortened(printable(run.first.mark), room)}  {length}"


def _called(bar: PlannedBar, labels: list[tuple[Run, str, int]], scale: _Scale) -> Iterator[str]:
    low = BAND_TOP + BAND_HEIGHT
    for run, words, row in labels:
        left, right = scale.x(run.first.lead_mm), scale.x(run.last.trail_mm)
        middle = _middle(run, scale)
        down = low + 10.0 + (row + 0.7) * _ROW
        yield (
            f'<path class="leader" d="M{number(left)} {number(low + 2.0)}V{number(low + 5.0)}'
            f"H{number(right)}V{number(low + 2.0)}M{number(middle)} {number(low + 5.0)}"
            f'V{number(down)}h3"/>'
        )
        yield _text("run", middle + 4.0, down + 4.0, words, LETTERS, anchor="start")
    if not bar.pieces:
        yield _text("run", 0.0, low + 20.0, "no pieces", LETTERS, anchor="start")


def _text(  # noqa: PLR0913 - what a text is set by
    kind: str, x: float, y: float, words: str, size: float, *, anchor: str = "middle"
) -> str:
    return (
        f'<text class="{kind}" x="{number(x)}" y="{number(y)}" font-size="{number(size)}"'
        f' text-anchor="{anchor}">{escaped(words)}</text>'
    )


def _fitting(text: str, room: float, size: float) -> str:
    """Return a text cut to a width, "" where not even three letters fit."""
    most = int((room - 6.0) / (size * ADVANCE))
    return shortened(text, most) if most >= 3 else ""  # noqa: PLR2004
