"""When two parts are the same piece, and when one is the opposite hand of the other."""

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from operator import attrgetter
from types import MappingProxyType
from typing import Final, NamedTuple

from msgspec import Struct

from translator.geometry.contours import arranged
from translator.geometry.ends import outermost_x
from translator.geometry.heelcuts import heel_cut
from translator.geometry.turning import (
    depends_on_face,
    legs_exchanged,
    mirrored,
    turned,
    turned_over,
    turns,
)
from translator.model import (
    Angle,
    CentreMark,
    Cope,
    Flat,
    Hole,
    LegName,
    Opening,
    OutlineTrim,
    Part,
    Scribe,
    Slot,
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
    "Keys",
    "drawn_key",
    "keys",
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

_KEPT: Final = 4
"""Parts whose keys are kept at hand: who asks for one key asks for the next."""

_NOT_THE_PIECE: Final = frozenset({"id", "bolt", "purpose", "text", "may_move"})
"""Fields of a feature that name it or say what it is for, and change no metal."""

_LINES: Final = frozenset({"contour", "line"})
"""Fields that the same shape may fill in several ways; they are told apart from the others."""

_VALUES: Final[Mapping[type, Callable[[Feature], object]]] = MappingProxyType(
    {
        kind: attrgetter(*(n for n in kind.model_fields if n not in _NOT_THE_PIECE | _LINES))
        for kind in (Hole, Slot, Opening, CentreMark, Scribe, Stamp)
    }
)
"""Kind of feature -> what makes its metal, but for lines."""


class Keys(Struct, frozen=True, kw_only=True):
    """What tells one piece from another.

    Attributes:
        piece: the same for all parts that are the same piece, and for no others; see
            ``piece_key``.
        drawn: the same for parts that are one piece and lie the same way.
        hand: as ``piece``, but stamps do not count at all: letters have no mirror image.
        mirror: ``hand`` of the mirror image.
    """

    piece: str
    drawn: str
    hand: str
    mirror: str


@lru_cache(maxsize=_KEPT)
def keys(part: Part) -> Keys:
    """Return all keys of a part, for less than each by itself would cost.

    A part is the opposite hand of another when its ``hand`` is the other's ``mirror``, and both
    parts' ``hand`` differ.
    """
    if isinstance(part.section, Flat):
        return _flat_keys(part)
    lying = (part, turned(part))
    ways = [_told(way) for way in lying]
    return Keys(
        piece=min(way.whole for way in ways),
        drawn=ways[0].whole,
        hand=min(way.bare for way in ways),
        mirror=min(_told(legs_exchanged(way)).bare for way in lying),
    )


def _flat_keys(part: Part) -> Keys:
    ways = [_told(way) for way in (part, *turns(part))]
    bare, bare_ways = _without_stamps(part), ways
    if bare is not part:
        # Letters are what keeps most flats from being turned over: bare, it may lie more ways.
        bare_ways = [_told(way) for way in (bare, *turns(bare))]
    mirrors = bare_ways
    if depends_on_face(bare):
        mirror = mirrored(bare)
        mirrors = [_told(way) for way in (mirror, *turns(mirror))]
    return Keys(
        piece=min(way.whole for way in ways),
        drawn=ways[0].whole,
        hand=min(way.bare for way in bare_ways),
        # A flat that may be turned over is its own mirror image turned over.
        mirror=min(way.bare for way in mirrors),
    )


def piece_key(part: Part) -> str:
    """Return a text that is the same for all parts that are the same piece, and for no others.

    It holds the sizes of the section (not its name and radii, which a section given by sizes
    lacks), length, grade, finish, second work, ends, trims and features, in whichever of the
    piece's turns sorts first. Mark, quantity, titles, ids, order of features, bolts meant,
    remarks and the text of stamps do not count. A shape told by trims and the same told as an
    outline count as two.
    """
    return keys(part).piece


def drawn_key(part: Part) -> str:
    """Return a text that is the same for parts that are one piece and lie the same way."""
    return keys(part).drawn


def same_piece(one: Part, two: Part) -> bool:
    """Tell whether one part is the other after a turn that the section allows."""
    return piece_key(one) == piece_key(two)


def opposite_keys(part: Part) -> tuple[str, str]:
    """Return two texts to find opposite hands by: this piece's and that of its mirror image.

    They are ``hand`` and ``mirror`` of its ``Keys``.
    """
    found = keys(part)
    return found.hand, found.mirror


def opposite_hand(one: Part, two: Part) -> bool:
    """Tell whether one part is the mirror image of the other, and not also the same piece."""
    own, mirror = opposite_keys(one)
    other = opposite_keys(two)[0]
    return mirror == other and own != other


def _without_stamps(part: Part) -> Part:
    """Return a part without its stamps: itself when it has none."""
    legs: dict[str, object] = {}
    for name in leg_names(part):
        leg = leg_of(part, name)
        kept = tuple(f for f in leg.features if not isinstance(f, Stamp))
        if len(kept) < len(leg.features):
            legs[name] = leg.model_copy(update={"features": kept})
    if not legs:
        return part
    return part.model_copy(update={"legs": part.legs.model_copy(update=legs)})


class _Told(NamedTuple):
    """All that makes a piece, as it lies, in a text that no other piece has.

    ``bare`` is the same for pieces that differ in stamps only.
    """

    whole: str
    bare: str


def _told(part: Part) -> _Told:
    head = (
        _section_sizes(part.section),
        part.length_mm,
        part.grade,
        part.finish,
        sorted(part.second_work),
        part.ends.model_dump(),
    )
    names = leg_names(part)
    cuts = [(name, _shape_words(part, name)) for name in names]
    stamps, others = [], []
    for name in names:
        features = leg_of(part, name).features
        stamps.append(_feature_words(f for f in features if isinstance(f, Stamp)))
        others.append(_feature_words(f for f in features if not isinstance(f, Stamp)))
    bare = repr((head, cuts, others))
    return _Told(whole=f"{bare} {stamps}", bare=bare)


def _section_sizes(section: Angle | Flat) -> tuple[float, ...]:
    if isinstance(section, Flat):
        return section.width_mm, section.thickness_mm
    return section.leg_a_mm, section.leg_b_mm, section.thickness_mm


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
            words.append(repr(("heel", end, along, cut.across, cut.radius)))
    return sorted(words)


def _trim_words(trim: Trim) -> str:
    if isinstance(trim, OutlineTrim):
        return repr(("outline", _ring_words(trim.contour)))
    return repr(trim.model_dump())


def _feature_words(features: Iterable[Feature]) -> list[str]:
    return sorted(
        repr((_VALUES[type(f)](f), _line_words(f)))
        if isinstance(f, Opening | Scribe)
        else repr(_VALUES[type(f)](f))
        for f in features
    )


def _line_words(feature: Opening | Scribe) -> object:
    """Return the line of a feature in the one order that all ways of telling it share."""
    if isinstance(feature, Opening):
        return _ring_words(feature.contour)
    if feature.closed:
        return _ring_words(feature.line)
    forwards = [(v.x_mm, v.y_mm) for v in feature.line]
    bulges = [v.bulge for v in feature.line[:-1]]
    backwards = [-b + 0.0 for b in bulges[::-1]]
    return min((forwards, bulges), (forwards[::-1], backwards))


def _ring_words(contour: tuple[Vertex, ...]) -> list[tuple[float, float, float]]:
    return [(v.x_mm, v.y_mm, v.bulge) for v in arranged(contour)]
