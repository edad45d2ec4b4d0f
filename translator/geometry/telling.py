"""All that makes a piece, in words, in each way it may lie.

The words of a way are those of the piece turned that way, yet no turned part is made for them:
a part holds hundreds of values, of which a turn changes two or three in each feature.
"""

from collections.abc import Callable, Mapping
from operator import attrgetter
from types import MappingProxyType
from typing import Any, Final, NamedTuple

from translator.geometry.contours import arranged
from translator.geometry.ends import outermost_x
from translator.geometry.heelcuts import heel_cut, other_leg
from translator.geometry.turning import (
    Flip,
    flipped_trim,
    legs_exchanged,
    mirrored,
    moved,
    turned,
    turned_over,
)
from translator.lengths.grid import angle_on_grid
from translator.model import (
    Angle,
    AngleEnd,
    CentreMark,
    Cope,
    Flat,
    FlatEnd,
    Hole,
    Leg,
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
    leg_width,
    on_grid,
)
from translator.model.features import Feature
from translator.model.trims import End

_ENDS: tuple[End, ...] = ("start", "far")

_NOT_THE_PIECE: Final = frozenset({"id", "bolt", "purpose", "text", "may_move"})
"""Fields of a feature that name it or say what it is for, and change no metal."""

_LINES: Final = frozenset({"contour", "line"})
"""Fields that the same shape may fill in several ways; they are told apart from the others."""

_FIELDS: Final[Mapping[type, Mapping[str, int]]] = MappingProxyType(
    {
        kind: {
            name: number
            for number, name in enumerate(
                n for n in kind.model_fields if n not in _NOT_THE_PIECE | _LINES
            )
        }
        for kind in (Hole, Slot, Opening, CentreMark, Scribe, Stamp)
    }
)
"""Kind of feature -> the fields that make its metal, but for lines, and their order."""

_VALUES: Final[Mapping[type, Callable[[Feature], Any]]] = MappingProxyType(
    {kind: attrgetter(*names) for kind, names in _FIELDS.items()}
)


class Way(NamedTuple):
    """How a piece lies: as it is told, or changed.

    Attributes:
        ends: x is counted from the other end.
        sides: an angle's legs are exchanged, the edges of a flat likewise.
    """

    ends: bool
    sides: bool


AS_TOLD: Final = Way(ends=False, sides=False)
TURNED: Final = Way(ends=True, sides=True)
SIDES_EXCHANGED: Final = Way(ends=False, sides=True)
"""A flat's back face lies up; an angle is its own opposite hand, lying as it did."""
ENDS_EXCHANGED: Final = Way(ends=True, sides=False)


class Told(NamedTuple):
    """All that makes a piece, as it lies, in a text that no other piece has.

    ``bare`` is the same for pieces that differ in stamps only.
    """

    whole: str
    bare: str


class _LegWords(NamedTuple):
    """What is on a leg: its cuts, its stamps, and its other features as they stand in a list."""

    cuts: list[str]
    others: str
    stamps: str


class Telling:
    """A part, told in any way that it may lie. What several ways share is worked out once."""

    def __init__(self, part: Part) -> None:
        self._part = part
        self._names = leg_names(part)
        self._has_heel_cope = isinstance(part.section, Angle) and any(
            _is_at_heel(trim) for name in self._names for trim in leg_of(part, name).trims
        )
        self._words: dict[tuple[LegName, Way], _LegWords] = {}

    def told(self, way: Way) -> Told:
        """Return the words of the piece lying one way."""
        part = self._part
        head = (
            _section_sizes(part.section, way),
            part.length_mm,
            part.grade,
            part.finish,
            sorted(part.second_work),
            _ends(part, way),
        )
        legs = [(name, self._of_leg(name, way)) for name in self._names]
        cuts = [(name, leg.cuts) for name, leg in legs]
        if self._has_heel_cope:
            lying = _lying(part, way)
            cuts = [(name, sorted(leg.cuts + _heel_words(lying, name))) for name, leg in legs]
        others = ", ".join([leg.others for _, leg in legs])
        stamps = ", ".join([leg.stamps for _, leg in legs])
        bare = f"({head}, {cuts}, [{others}])"
        return Told(whole=f"{bare} [{stamps}]", bare=bare)

    def _of_leg(self, name: LegName, way: Way) -> _LegWords:
        """Return what comes to lie on a leg, cuts at the heel of an angle left out."""
        told, own = name, way
        if name != "face":
            told = other_leg(name) if way.sides else name
            own = Way(ends=way.ends, sides=False)
        found = self._words.get((told, own))
        if found is None:
            found = self._words[told, own] = self._worded(told, own)
        return found

    def _worded(self, name: LegName, way: Way) -> _LegWords:
        part = self._part
        leg, width = leg_of(part, name), leg_width(part.section, name)
        flip = Flip(length=part.length_mm, width=width, ends=way.ends, edges=way.sides)
        others: list[str] = []
        stamps: list[str] = []
        for feature in leg.features:
            changed = _AS_IT_IS if way == AS_TOLD else moved(feature, flip)
            word = _feature_word(feature, changed)
            (stamps if isinstance(feature, Stamp) else others).append(word)
        cuts = sorted(
            _trim_words(trim if way == AS_TOLD else flipped_trim(trim, flip))
            for trim in leg.trims
            if name == "face" or not _is_at_heel(trim)
        )
        return _LegWords(cuts=cuts, others=repr(sorted(others)), stamps=repr(sorted(stamps)))


_AS_IT_IS: Final[Mapping[str, object]] = MappingProxyType({})


def _section_sizes(section: Angle | Flat, way: Way) -> tuple[float, ...]:
    if isinstance(section, Flat):
        return section.width_mm, section.thickness_mm
    a, b = section.leg_a_mm, section.leg_b_mm
    return (b, a, section.thickness_mm) if way.sides else (a, b, section.thickness_mm)


def _ends(part: Part, way: Way) -> dict[str, dict[str, float]]:
    told = part.ends
    first, last = (told.far, told.start) if way.ends else (told.start, told.far)
    return {"start": _end(first, way), "far": _end(last, way)}


def _end(end: AngleEnd | FlatEnd, way: Way) -> dict[str, float]:
    if isinstance(end, FlatEnd):
        return {"face_deg": angle_on_grid(-end.face_deg) if way.sides else end.face_deg}
    a, b = end.leg_a_deg, end.leg_b_deg
    return {"leg_a_deg": b, "leg_b_deg": a} if way.sides else {"leg_a_deg": a, "leg_b_deg": b}


def _lying(part: Part, way: Way) -> Part:
    """Return a part without its features, lying another way."""
    legs: dict[str, Leg] = {
        name: leg_of(part, name).model_copy(update=_NO_FEATURES) for name in leg_names(part)
    }
    plain = part.model_copy(update={"legs": part.legs.model_copy(update=legs)})
    if way == AS_TOLD:
        return plain
    if way == TURNED:
        return turned(plain)
    if isinstance(part.section, Flat):
        return turned_over(plain) if way.sides else mirrored(plain)
    return legs_exchanged(plain if way.sides else turned(plain))


_NO_FEATURES: Final = {"features": ()}


def _is_at_heel(trim: Trim) -> bool:
    return isinstance(trim, Cope) and trim.side == "heel"


def _heel_words(part: Part, leg: LegName) -> list[str]:
    """Return the cuts at the heel of an angle, as each of its legs shows them.

    So it does not matter on which leg, or on both, a cut of the shared corner was told.
    """
    words = []
    for end in _ENDS:
        cut = heel_cut(part, leg, end)
        if cut is not None:
            along = on_grid(abs(cut.plane_x - outermost_x(part, end, leg)))
            words.append(repr(("heel", end, along, cut.across, cut.radius)))
    return words


def _trim_words(trim: Trim) -> str:
    if isinstance(trim, OutlineTrim):
        return repr(("outline", _ring_words(trim.contour)))
    return repr(trim.model_dump())


def _feature_word(feature: Feature, changed: Mapping[str, object]) -> str:
    """Return a feature in words, some of its fields filled otherwise."""
    if isinstance(feature, Opening | Scribe):
        if changed:
            feature = feature.model_copy(update=changed)
        return repr((_VALUES[type(feature)](feature), _line_words(feature)))
    kind = type(feature)
    values = _VALUES[kind](feature)
    if changed:
        values, at = list(values), _FIELDS[kind]
        for name, value in changed.items():
            values[at[name]] = value
        values = tuple(values)
    return repr(values)


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
