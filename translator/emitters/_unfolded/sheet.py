"""Put a sheet together: the largest scale at which everything fits the paper."""

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from translator.emitters._unfolded.breaks import Fold, chosen, folded
from translator.emitters._unfolded.key_plan import key_plan
from translator.emitters._unfolded.paper import (
    INCH_PAPERS,
    INCH_SCALES,
    LETTER_MM,
    METRIC_PAPERS,
    METRIC_SCALES,
    PAPERS,
    WORDS_MM,
    Paper,
)
from translator.emitters._unfolded.views import Drawn, View, view
from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._drawing import leg_entities
from translator.emitters.dxf._entities import Box, Corner, Entity, Polyline, Spot
from translator.emitters.dxf._scale import Scale
from translator.emitters.dxf._sheet import (
    caution_row,
    note_rows,
    notes,
    schedule_rows,
    title_rows,
    view_name,
    view_note,
)
from translator.emitters.dxf._table import Row, Ruled, ruled
from translator.errors import CannotRepresentError, UnknownNameError
from translator.geometry.outline import leg_outline
from translator.model import Part, leg_names, leg_of, leg_width

TITLE_MM: Final = 100.0
"""Width of the title block."""

KEY_PLAN_MM: Final = 30.0
"""Height of the key plan above it."""

_WORDS_GAP_MM: Final = 3.0
_VIEW_GAP_MM: Final = 4.0
_WORDS_SHARE: Final = 0.62
"""Words may take no more of the frame's height."""

_SIDES_MM: Final = 50.0
"""Room for the dimensions at both ends of the piece, when breaks are chosen."""

_FAIR_MM: Final = 26.0
"""A piece whose legs are at least so broad on paper, together, is not broken for a larger one."""

_MOST_FEATURES: Final = 2000
"""No paper tried holds a schedule of more."""

_SHEET_NOTE: Final = (
    "A picture on paper: measure the leg drawings. Breaks leave steel out; dimensions are true."
)

_SMALL_LETTERS: Final = (LETTER_MM, 1.8, 1.3)
"""Letters of dimensions to try in turn where places are crowded."""


class Sheet(Struct, frozen=True, kw_only=True):
    """A sheet: its paper and what is drawn on it, from the paper's lower left corner, in mm."""

    paper: Paper
    scale: float
    entities: tuple[Entity, ...]


def sheet(part: Part, paper: str | None = None) -> Sheet:
    """Draw both legs of a part, unfolded, on one sheet.

    Args:
        part: what to draw.
        paper: name of the paper; None takes the smallest usual one of the part's units on
            which the drawing reads well.

    Raises:
        UnknownNameError: for a paper of another name.
        CannotRepresentError: when a leg has no true outline, or no paper is large enough for
            the words or the dimensions of the part.
    """
    inch = part.units == "inch"
    features = sum(len(leg_of(part, leg).features) for leg in leg_names(part))
    papers = (INCH_PAPERS if inch else METRIC_PAPERS) if paper is None else (_named(paper),)
    found = None
    for one in papers if features <= _MOST_FEATURES else ():
        found = _on(part, one, INCH_SCALES if inch else METRIC_SCALES) or found
        if found is not None and _reads_well(part, found):
            return found
    if found is None:
        raise CannotRepresentError(
            f"{part.mark}: what it says and has to dimension is too much for a sheet of"
            f" {papers[-1].name}; the leg drawings hold it"
        )
    return found


def _named(name: str) -> Paper:
    for paper in PAPERS:
        if paper.name.casefold() == name.casefold():
            return paper
    known = ", ".join(paper.name for paper in PAPERS)
    raise UnknownNameError(f"there is no paper {name!r}; there are {known}")


def _reads_well(part: Part, found: Sheet) -> bool:
    return found.scale == 1.0 or _across(part) / found.scale >= _FAIR_MM


def _across(part: Part) -> float:
    return sum(leg_width(part.section, leg) for leg in leg_names(part))


def _on(part: Part, paper: Paper, scales: Sequence[float]) -> Sheet | None:
    """Return the sheet on one paper at the best scale, None when it cannot hold the part."""
    room = _room(part, paper)
    if room is None:
        return None
    for letter in _SMALL_LETTERS:
        for fold, drawn in _tries(part, room, scales):
            made = view(part, drawn, fold, letter)
            if _fits(made.around, room):
                return _composed(part, paper, room, made, fold.scale)
    return None


def _room(part: Part, paper: Paper) -> Box | None:
    """Return the room that words and key plan leave for the legs, None when too little."""
    frame = paper.frame
    words = _words(part, paper, "1:1000 on tabloid", 0)
    top = max(words[0].around.top, words[1].around.top + KEY_PLAN_MM)
    if top - frame.bottom > _WORDS_SHARE * (frame.top - frame.bottom):
        return None
    gap = _VIEW_GAP_MM
    return Box(frame.left + gap, top + gap, frame.right - gap, frame.top - gap)


def _tries(part: Part, room: Box, scales: Sequence[float]) -> Iterator[tuple[Fold, Drawn]]:
    """Yield what to try, best first.

    Whole at a scale at which the legs are fairly broad; else with breaks, the largest scale
    first; else whole at whatever scale.
    """
    across = sum(leg_width(part.section, leg) for leg in leg_names(part))
    width = room.right - room.left - _SIDES_MM
    whole = [s for s in scales if part.length_mm / s <= room.right - room.left]
    fair = [s for s in whole if s == 1.0 or across / s >= _FAIR_MM]
    for scale in fair:
        yield Fold(scale=scale), _drawn(part, scale)
    for scale in scales:
        drawn = _drawn(part, scale)
        every = [entity for leg in drawn.entities.values() for entity in leg]
        cuts = chosen(every, part.length_mm, scale, width)
        if cuts:
            yield Fold(scale=scale, cuts=cuts), drawn
    for scale in whole:
        if scale not in fair:
            yield Fold(scale=scale), _drawn(part, scale)


def _drawn(part: Part, scale: float) -> Drawn:
    sizes = Scale(letter_mm=LETTER_MM * scale, unit_mm=1.0)
    legs = {leg: leg_entities(part, leg, sizes) for leg in leg_names(part)}
    return Drawn(
        {leg: contour for leg, (_, contour) in legs.items()},
        {leg: entities for leg, (entities, _) in legs.items()},
    )


def _fits(box: Box, room: Box) -> bool:
    return (
        box.right - box.left <= room.right - room.left
        and box.top - box.bottom <= room.top - room.bottom
    )


def _composed(part: Part, paper: Paper, room: Box, made: View, scale: float) -> Sheet:
    box = made.around
    shift = Spot(
        (room.left + room.right - box.left - box.right) / 2.0,
        (room.bottom + room.top - box.bottom - box.top) / 2.0,
    )
    legs = folded(made.entities, Fold(scale=1.0, origin=shift))
    words = _words(part, paper, f"1:{scale:g} on {paper.name}", made.left_out)
    title = words[1].around
    plan = Box(title.left + 2.0, title.top + 2.0, title.right - 2.0, title.top + KEY_PLAN_MM - 2.0)
    frame = paper.frame
    border = Polyline(
        layers.FRAME,
        (
            Corner(frame.left, frame.bottom),
            Corner(frame.right, frame.bottom),
            Corner(frame.right, frame.top),
            Corner(frame.left, frame.top),
        ),
    )
    return Sheet(
        paper=paper,
        scale=scale,
        entities=(
            border,
            *legs,
            *(e for ruled_ in words for e in ruled_.entities),
            *key_plan(part, plan),
        ),
    )


def _words(part: Part, paper: Paper, scale: str, left_out: int) -> tuple[Ruled, Ruled]:
    """Set notes, schedule and caution at the lower left and the title block at the right."""
    legs = leg_names(part)
    contours = {leg: leg_outline(part, leg).contour for leg in legs}
    said = [*notes(part, contours, left_out), view_note(part, legs), _SHEET_NOTE]
    left = (*note_rows(said), *schedule_rows(part, legs), caution_row())
    right = tuple(title_rows(part, view_name(legs), scale))
    frame = paper.frame
    middle = frame.right - TITLE_MM
    return (
        _standing(left, frame.left, frame.bottom, middle - frame.left - _WORDS_GAP_MM),
        _standing(right, middle, frame.bottom, TITLE_MM),
    )


def _standing(rows: Sequence[Row], left: float, bottom: float, width: float) -> Ruled:
    """Set rows so that their frame stands on a line."""
    height = -ruled(rows, Spot(0.0, 0.0), width, WORDS_MM).around.bottom
    return ruled(rows, Spot(left, bottom + height), width, WORDS_MM)
