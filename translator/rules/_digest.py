"""What a rule of a set sees of each part: enough to tell parts apart, never the part."""

import hashlib
import re
from collections.abc import Callable, Sequence
from functools import cache
from operator import attrgetter
from typing import Final

import msgspec
from msgspec import Struct

from translator.geometry.identity import keys
from translator.geometry.mass import gross_mass_kg
from translator.model import Leg, Placed, leg_names, leg_of
from translator.model.numbers import Frozen
from translator.rules._revisions import is_newer, revision_key
from translator.tables.designations import designation_of

_NO_SHAPE: Final = frozenset({"id", "designation"})

_LONG: Final = 24
_TRAIT: Final = 12
"""Digits of a hash: of what two pieces are held to be the same by, and of a trait, which only
names how two different ones differ."""

_OPPOSITE: Final = re.compile(r"\b(opp(osite)?|hand(ed)?|mirror(ed)?)\b", re.IGNORECASE)


class Digest(Struct, frozen=True, kw_only=True):
    """One part of a set.

    Attributes:
        number: its place in the set; violations and the runner refer to it.
        order: the order it belongs to, "" when not said.
        mark: the piece mark.
        revision: the revision, None when not said.
        path: the file it came from.
        piece: the same for parts that are one piece, in whichever way they lie.
        drawn: the same for parts that are one piece and lie the same way.
        hand: as ``piece``, stamps left out.
        mirror: ``hand`` of this piece's mirror image.
        quantity: how many of it.
        length_mm: its length.
        section: designation of its section, as the tables spell it.
        grade: None when not said.
        units: of its author, "mm" or "inch".
        mass_kg: of one piece as billed: mass per metre times length.
        says_opposite: its source calls it the opposite of a part (a place "opposite"), or its
            title or a remark speaks of an opposite hand.
        traits: what makes the piece, a line for each trait: its name, a tab and a hash of
            its value ("section", "length", "grade", "finish", "second work", "ends", and
            "leg a" and "leg b", or "face"). One text, since thousands are held at once.
    """

    number: int
    order: str
    mark: str
    revision: str | None
    path: str
    piece: str
    traits: str
    drawn: str = ""
    hand: str = ""
    mirror: str = ""
    says_opposite: bool = False
    quantity: int = 1
    length_mm: float = 0.0
    section: str = ""
    grade: str | None = None
    units: str = "mm"
    mass_kg: float = 0.0

    @property
    def key(self) -> tuple[str, str]:
        """Order and mark: what no two pieces of one delivery may share."""
        return self.order, self.mark


def digests(parts: Sequence[Placed]) -> tuple[Digest, ...]:
    """Return the digest of each part of a set."""
    return tuple(digest(number, placed) for number, placed in enumerate(parts))


def digest(number: int, placed: Placed) -> Digest:
    """Return the digest of one part of a set."""
    part = placed.part
    traits = {
        "section": _hash(part.section),
        "length": _hash(part.length_mm),
        "grade": _hash(part.grade or "none"),
        "finish": _hash(part.finish or "none"),
        "second work": _hash(repr(part.second_work)),
        "ends": _hash(part.ends),
    }
    for name in leg_names(part):
        traits["face" if name == "face" else f"leg {name}"] = _leg_hash(leg_of(part, name))
    told = keys(part)
    return Digest(
        number=number,
        order=part.order or "",
        mark=part.mark,
        revision=part.revision,
        path=placed.places[""].path,
        piece=_short(told.piece),
        traits="\n".join(f"{name}\t{value[:_TRAIT]}" for name, value in traits.items()),
        drawn=_short(told.drawn),
        hand=_short(told.hand),
        mirror=_short(told.mirror),
        quantity=part.quantity,
        length_mm=part.length_mm,
        section=designation_of(part.section),
        grade=part.grade,
        units=part.units,
        mass_kg=gross_mass_kg(part),
        says_opposite="opposite" in placed.places
        or any(_OPPOSITE.search(text) for text in (part.title or "", *part.remarks)),
    )


def differences(one: Digest, other: Digest) -> tuple[str, ...]:
    """Return the traits in which two parts differ, in the order of the traits.

    None for the same piece, though it may be told in another way.
    """
    if one.piece == other.piece:
        return ()
    own, others = _told(one), _told(other)
    return tuple(n for n in dict.fromkeys((*own, *others)) if own.get(n) != others.get(n))


def _told(digest: Digest) -> dict[str, str]:
    return dict(line.split("\t") for line in digest.traits.splitlines())


def superseded(digests: tuple[Digest, ...]) -> dict[int, Digest]:
    """Return, for each part that a newer revision of its mark replaces, that newer part.

    Where several are newer the newest is returned.
    """
    newest: dict[tuple[str, str, str], Digest] = {}
    for item in digests:
        kind = (*item.key, revision_key(item.revision)[0])
        if kind not in newest or is_newer(item.revision, newest[kind].revision):
            newest[kind] = item
    replaced: dict[int, Digest] = {}
    for item in digests:
        latest = newest[*item.key, revision_key(item.revision)[0]]
        if is_newer(latest.revision, item.revision):
            replaced[item.number] = latest
    return replaced


def _short(text: str) -> str:
    return _hexed(text.encode())


def _leg_hash(leg: Leg) -> str:
    # The order in which features are listed makes no difference to the piece.
    return _hash([sorted(_encoded(feature) for feature in leg.features), leg.trims])


def _hash(value: object) -> str:
    return _hexed(_encoded(value))


def _encoded(value: object) -> bytes:
    return msgspec.json.encode(value, enc_hook=_told_in_full)


def _told_in_full(model: Frozen) -> object:
    """Return what makes a section, an end, a feature, a trim or a vertex, its name left out."""
    return _values(type(model))(model)


@cache
def _values(kind: type[Frozen]) -> Callable[[Frozen], object]:
    return attrgetter(*(name for name in kind.model_fields if name not in _NO_SHAPE))


def _hexed(data: bytes) -> str:
    # Many digests are held at once, so they are no longer than telling parts apart needs.
    return hashlib.sha256(data).hexdigest()[:_LONG]
