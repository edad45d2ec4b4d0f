"""When two parts are the same piece, and when one is the opposite hand of the other."""

import json

from translator.geometry.contours import arranged
from translator.geometry.ends import outermost_x
from translator.geometry.heelcuts import heel_cut
from translator.geometry.turning import mirrored, turned, turned_over, turns
from translator.model import (
    Angle,
    Cope,
    LegName,
    Opening,
    OutlineTrim,
    Part,
    Scribe,
    Stamp,
    Trim,
    Vertex,
    leg_names,
    leg_of,
    on_grid,
)
from translator.model.features import Feature
from translator.model.trims import End

__all__ = [
    "drawn_key",
    "mirrored",
    "opposite_hand",
    "opposite_keys",
    "piece_key",
    "same_piece",
    "turned",
    "turned_over",
    "turns",
]

_ENDS: tuple[End, ...] = ("start", "far")

_NOT_THE_PIECE = frozenset({"id", "bolt", "purpose", "text", "may_move"})
"""Fields of a feature that name it or say what it is for, and change no metal."""


def piece_key(part: Part) -> str:
    """Return a text that is the same for all parts that are the same piece, and for no others.

    It holds the sizes of the section (not its name and radii, which a section given by sizes
    lacks), length, grade, finish, second work, ends, trims and features, in whichever of the
    piece's turns sorts first. Mark, quantity, titles, ids, order of features, bolts meant,
    remarks and the text of stamps do not count. A shape told by trims and the same told as an
    outline count as two.
    """
    return min(_told(way, with_stamps=True) for way in (part, *turns(part)))


def drawn_key(part: Part) -> str:
    """Return a text that is the same for parts that are one piece and lie the same way."""
    return _told(part, with_stamps=True)


def same_piece(one: Part, two: Part) -> bool:
    """Tell whether one part is the other after a turn that the section allows."""
    return piece_key(one) == piece_key(two)


def opposite_keys(part: Part) -> tuple[str, str]:
    """Return two texts to find opposite hands by: this piece's and that of its mirror image.

    A part is the opposite hand of another when its first text is the other's second, and the
    two first texts differ. Stamps do not count at all: letters have no mirror image.
    """
    bare = _without_stamps(part)
    mirror = mirrored(bare)
    return (
        min(_told(way, with_stamps=False) for way in (bare, *turns(bare))),
        min(_told(way, with_stamps=False) for way in (mirror, *turns(mirror))),
    )


def opposite_hand(one: Part, two: Part) -> bool:
    """Tell whether one part is the mirror image of the other, and not also the same piece."""
    own, mirror = opposite_keys(one)
    other = opposite_keys(two)[0]
    return mirror == other and own != other


def _without_stamps(part: Part) -> Part:
    legs: dict[str, object] = {
        name: leg_of(part, name).model_copy(
            update={
                "features": tuple(
                    f for f in leg_of(part, name).features if not isinstance(f, Stamp)
                )
            }
        )
        for name in leg_names(part)
    }
    return part.model_copy(update={"legs": part.legs.model_copy(update=legs)})


def _told(part: Part, *, with_stamps: bool) -> str:
    section = part.section.model_dump(
        exclude={"designation", "root_radius_mm", "toe_radius_mm"}, mode="json"
    )
    words = {
        "section": section,
        "length": part.length_mm,
        "grade": part.grade,
        "finish": part.finish,
        "second": sorted(part.second_work),
        "ends": part.ends.model_dump(),
        "legs": {
            name: {
                "trims": _shape_words(part, name),
                "features": sorted(
                    _feature_words(f)
                    for f in leg_of(part, name).features
                    if with_stamps or not isinstance(f, Stamp)
                ),
            }
            for name in leg_names(part)
        },
    }
    return json.dumps(words, sort_keys=True)


def _shape_words(part: Part, leg: LegName) -> list[str]:
    """Return what cuts a leg, in order; cuts at the heel as both legs show them.

    So it does not matter on which leg, or on both, a cut of the shared corner was told.
    """
    is_angle = isinstance(part.section, Angle)
    words = [
        _trim_words(trim)
        for trim in leg_of(part, leg).trims
        if not (is_angle and isinstance(trim, Cope) and trim.side == "heel")
    ]
    for end in _ENDS if is_angle else ():
        cut = heel_cut(part, leg, end)
        if cut is not None:
            along = on_grid(abs(cut.plane_x - outermost_x(part, end, leg)))
            words.append(json.dumps(["heel", end, along, cut.across, cut.radius]))
    return sorted(words)


def _trim_words(trim: Trim) -> str:
    if isinstance(trim, OutlineTrim):
        return json.dumps(["outline", _ring_words(trim.contour)])
    return json.dumps(trim.model_dump(), sort_keys=True)


def _feature_words(feature: Feature) -> str:
    words = feature.model_dump(exclude=set(_NOT_THE_PIECE))
    if isinstance(feature, Opening):
        words["contour"] = _ring_words(feature.contour)
    elif isinstance(feature, Scribe) and feature.closed:
        words["line"] = _ring_words(feature.line)
    elif isinstance(feature, Scribe):
        forwards = [(v.x_mm, v.y_mm) for v in feature.line]
        bulges = [v.bulge for v in feature.line[:-1]]
        backwards = [-b + 0.0 for b in bulges[::-1]]
        words["line"] = min((forwards, bulges), (forwards[::-1], backwards))
    return json.dumps(words, sort_keys=True)


def _ring_words(contour: tuple[Vertex, ...]) -> list[tuple[float, float, float]]:
    return [(v.x_mm, v.y_mm, v.bulge) for v in arranged(contour)]
