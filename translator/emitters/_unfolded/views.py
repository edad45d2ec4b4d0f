"""The legs of a piece on paper, with their dimensions: leg a above leg b, joined at the heel."""

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from translator.emitters._unfolded.breaks import Fold, folded, zigzag
from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._dimensions import (
    GAP,
    PITCH,
    Mark,
    Side,
    ordinates_across,
)
from translator.emitters.dxf._entities import Box, Entity, Spot, Text, around, both
from translator.emitters.dxf._leg_dimensions import (
    CLEAR,
    Leg,
    across,
    along,
    edge_words,
    fitting,
    overall,
    overall_beyond,
    whole_width,
)
from translator.emitters.dxf._stations import Plan
from translator.geometry.contours import Contour
from translator.model import LegName, Part, leg_names

_BEYOND_MM: Final = 2.5
"""How far a break line stands out beyond the legs."""


class View(NamedTuple):
    """The legs with their dimensions, a box around them, and how many places have none."""

    entities: tuple[Entity, ...]
    around: Box
    left_out: int


class Drawn(NamedTuple):
    """The legs of a part in mm of their outside view."""

    contours: Mapping[LegName, Contour]
    entities: Mapping[LegName, Sequence[Entity]]


def view(part: Part, drawn: Drawn, fold: Fold, letter: float) -> View:
    """Draw the legs of a part on paper.

    Args:
        part: the part.
        drawn: its legs.
        fold: scale and breaks; its origin is the start end at the heel.
        letter: letter height of the dimensions, mm.
    """
    shapes = [s for leg in leg_names(part) for s in folded(drawn.entities[leg], fold)]
    legs = [
        Leg(part, leg, drawn.contours[leg], letter, fold.spot, 1.0 / fold.scale)
        for leg in leg_names(part)
    ]
    breaks = [line for cut in fold.cuts for line in _break(legs, fold, cut.begin, cut.end)]
    box = around([*shapes, *breaks])
    wanted = [fitting(own) for own in legs]
    made: list[Entity] = [
        d for own, w in zip(legs, wanted, strict=True) for d in along(own, w, box)
    ]
    inner, box = box, both(box, around(made))
    made.append(overall(legs[0], inner) if len(legs) == 1 else overall_beyond(legs[0], box))
    made += _at_ends(legs, wanted, both(box, around(made)), inner.left)
    box = both(box, around(made))
    made += _beyond(legs, box, box.right if any(w.far for w in wanted) else inner.left)
    left_out = sum(w.left_out for w in wanted)
    return View((*shapes, *breaks, *made), both(box, around(made)), left_out)


def _break(legs: Sequence[Leg], fold: Fold, begin: float, end: float) -> list[Entity]:
    low = min(own.spot(0.0, own.width if own.up < 0.0 else 0.0).v for own in legs)
    high = max(own.spot(0.0, own.width if own.up > 0.0 else 0.0).v for own in legs)
    return [zigzag(fold.u(u), low - _BEYOND_MM, high + _BEYOND_MM) for u in (begin, end)]


def _at_ends(
    legs: Sequence[Leg], wanted: Sequence[Plan], box: Box, gauge_end: float
) -> list[Entity]:
    """Dimension places across at both ends; the heel, which both legs share, once."""
    h = legs[0].letter
    before: list[Mark] = []
    beyond: list[Mark] = []
    for own, plan in reversed(list(zip(legs, wanted, strict=True))):  # from bottom to top
        marks = across(own, plan.start, gauge_end)
        before += marks if own is legs[0] else [mark for mark in marks if mark.value]
        beyond += across(own, plan.far, None)
    datum = legs[0].spot(0.0, 0.0)
    return [
        *ordinates_across(before, datum, Side(box.left, -1.0, CLEAR * h, h)),
        *ordinates_across(beyond, datum, Side(box.right, 1.0, CLEAR * h, h)),
    ]


def _beyond(legs: Sequence[Leg], box: Box, lines_from: float) -> list[Entity]:
    """Dimension the width of each leg beyond the far end, and name legs and edges."""
    made: list[Entity] = []
    right = box.right
    for own in legs:
        over = whole_width(own, right, lines_from)
        made.append(over)
        if len(legs) > 1 and own.width * own.scale < PITCH * own.letter * 2.0:
            right = around([over]).right
    if len(legs) > 1:
        right = around(made).right
        for own in legs:
            words = edge_words(own, right)
            made += words if own is legs[0] else words[1:]
            made.append(_name(own, right))
    return made


def _name(own: Leg, right: float) -> Text:
    _, v = own.spot(0.0, own.width / 2.0)
    h = min(own.letter, own.width * own.scale / 4.0)
    at = Spot(right + GAP * own.letter, v - h / 2.0)
    return Text(layers.TITLE, f"LEG {own.leg.upper()}", at, h)
