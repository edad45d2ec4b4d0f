"""A stamp lies over a hole, slot or opening.

What it checks: the letters of each stamp as a box (a letter 0.6 of its height wide) against the
holes, slots and openings of its leg. A stamp that may be moved gets a note only.

Why: over a hole the letters are lost, the type strikes the edge, and a bolt head covers the mark.

What to do: move the stamp, or let it move (`may move`).

Reference: width of a letter from memory; common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.clearance import clear_distance, extent
from translator.model import LegName, Opening, Stamp, Vertex, leg_names
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._pairs import MOST_PAIRS, CutOut, neighbours
from translator.rules._rule import Example, Rule, Violation
from translator.rules._stamps import stamp_corners

_FEW: Final = 1_000
_NEAR: Final = 0.01
"""Millimetres: more than what still counts as touching."""


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each stamp whose letters reach over a cut-out of its leg."""
    for leg in leg_names(facts.part):
        stamps = [stamp for name, stamp in facts.stamps if name == leg]
        cut_outs = facts.cut_outs[leg]
        if stamps and cut_outs and _may_be_over(stamps, cut_outs, facts.part.mark):
            yield from _over(facts, leg, stamps, cut_outs)


def _may_be_over(stamps: list[Stamp], cut_outs: tuple[CutOut, ...], mark: str) -> bool:
    """Tell whether to look closely: not where the boxes around few things lie apart."""
    if len(stamps) * len(cut_outs) > _FEW:
        return True
    boxes = [extent(cut_out) for cut_out in cut_outs]
    for stamp in stamps:
        xs, ys = zip(*stamp_corners(stamp, mark), strict=True)
        left, low, right, high = min(xs) - _NEAR, min(ys) - _NEAR, max(xs) + _NEAR, max(ys) + _NEAR
        if any(
            box.left < right and left < box.right and box.low < high and low < box.high
            for box in boxes
        ):
            return True
    return False


def _over(
    facts: Facts, leg: LegName, stamps: list[Stamp], cut_outs: tuple[CutOut, ...]
) -> Iterator[Violation]:
    boxes = [_box(stamp, facts.part.mark) for stamp in stamps]
    told: set[int] = set()
    for number, (i, j) in enumerate(neighbours((*boxes, *cut_outs))):
        if number == MOST_PAIRS:
            return
        if i in told or not i < len(boxes) <= j:
            continue
        cut_out = cut_outs[j - len(boxes)]
        clear = clear_distance(boxes[i], cut_out)
        if clear < HALF_LAST_DECIMAL_MM:
            told.add(i)
            article = "an" if cut_out.kind == "opening" else "a"
            yield Violation(
                message=f"{named(stamps[i])} lies over {article} {cut_out.kind} by"
                f" {facts.length(max(0.0, -clear))}",
                element=path_of(leg, stamps[i]),
                value=clear,
                limit=0.0,
                severity=Severity.NOTE if stamps[i].may_move else None,
                related=((path_of(leg, cut_out), named(cut_out)),),
            )


def _box(stamp: Stamp, mark: str) -> Opening:
    corners = (Vertex(x_mm=x, y_mm=y) for x, y in stamp_corners(stamp, mark))
    return Opening(id=stamp.id, contour=tuple(corners))


RULE: Final = Rule(
    name="stamp-over-hole",
    title="a stamp lies over a hole",
    severity=Severity.WARNING,
    scope="part",
    reference="width of a letter from memory; common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a {
    holes 22 gauge 50 at 60
    stamp "ABC" at 71.01 from heel 45 height 10
    stamp "ABC" at 200 from heel 45 height 10
  }
}
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a {
    holes 22 gauge 50 at 60
    stamp "ABC" at 70.99 from heel 45 height 10             # <--
    slots 22 x 60 along leg gauge 50 at 200
    stamp "ABC" at 190 from heel 45 height 10 may move      # <--
  }
}
"""
        ),
    ),
)
