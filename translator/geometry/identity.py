"""When two parts are the same piece, and when one is the opposite hand of the other."""

from typing import Final

from msgspec import Struct

from translator.geometry.at_hand import at_hand
from translator.geometry.telling import (
    AS_TOLD,
    ENDS_EXCHANGED,
    SIDES_EXCHANGED,
    TURNED,
    Telling,
    Way,
)
from translator.geometry.turning import (
    depends_on_face,
    is_on_face,
    mirrored,
    turned,
    turned_over,
    turns,
)
from translator.model import AngleLegs, Part, Stamp

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

_KEPT: Final = 4
"""Parts whose keys are kept at hand: who asks for one key asks for the next."""


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


@at_hand(_KEPT)
def keys(part: Part) -> Keys:
    """Return all keys of a part, for less than each by itself would cost.

    A part is the opposite hand of another when its ``hand`` is the other's ``mirror``, and both
    parts' ``hand`` differ.
    """
    telling = Telling(part)
    ways, bare_ways, mirrors = _ways(part)
    told = {way: telling.told(way) for way in dict.fromkeys((*ways, *bare_ways, *mirrors))}
    return Keys(
        piece=min(told[way].whole for way in ways),
        drawn=told[AS_TOLD].whole,
        hand=min(told[way].bare for way in bare_ways),
        mirror=min(told[way].bare for way in mirrors),
    )


def _ways(part: Part) -> tuple[tuple[Way, ...], tuple[Way, ...], tuple[Way, ...]]:
    """Return in which ways a piece may lie, without its stamps, and as its mirror image."""
    once, others = (AS_TOLD, TURNED), (ENDS_EXCHANGED, SIDES_EXCHANGED)
    legs = part.legs
    if isinstance(legs, AngleLegs):
        return once, once, others
    features = legs.face.features
    if any(is_on_face(f) for f in features if not isinstance(f, Stamp)):
        return once, once, others
    # Letters are what keeps most flats from being turned over: bare, it may lie more ways. One
    # that may be turned over is its own mirror image turned over.
    every = (*once, *others)
    return once if depends_on_face(part) else every, every, every


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
