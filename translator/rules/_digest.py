"""What a rule of a set sees of each part: enough to tell parts apart, never the part."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from translator.geometry.identity import piece_key
from translator.model import Leg, Placed, leg_names, leg_of
from translator.rules._revisions import is_newer, revision_key

_NO_SHAPE: Final = frozenset({"id", "designation"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Digest:
    """One part of a set.

    Attributes:
        number: its place in the set; violations and the runner refer to it.
        order: the order it belongs to, "" when not said.
        mark: the piece mark.
        revision: the revision, None when not said.
        path: the file it came from.
        piece: the same for parts that are one piece, in whichever way they lie.
        traits: what makes the piece, trait -> its value or a hash of it ("section",
            "length", "grade", "finish", "second work", "ends", and "leg a" and "leg b",
            or "face").
    """

    number: int
    order: str
    mark: str
    revision: str | None
    path: str
    piece: str
    traits: Mapping[str, str]

    @property
    def key(self) -> tuple[str, str]:
        """Order and mark: what no two pieces of one delivery may share."""
        return self.order, self.mark


def digest(number: int, placed: Placed) -> Digest:
    """Return the digest of one part of a set."""
    part = placed.part
    traits = {
        "section": _hash(part.section.model_dump(mode="json")),
        "length": repr(part.length_mm),
        "grade": part.grade or "none",
        "finish": part.finish or "none",
        "second work": repr(part.second_work),
        "ends": _hash(part.ends.model_dump(mode="json")),
    }
    for name in leg_names(part):
        traits["face" if name == "face" else f"leg {name}"] = _leg_hash(leg_of(part, name))
    return Digest(
        number=number,
        order=part.order or "",
        mark=part.mark,
        revision=part.revision,
        path=placed.places[""].path,
        piece=hashlib.sha256(piece_key(part).encode()).hexdigest(),
        traits=traits,
    )


def differences(one: Digest, other: Digest) -> tuple[str, ...]:
    """Return the traits in which two parts differ, in the order of the traits.

    None for the same piece, though it may be told in another way.
    """
    if one.piece == other.piece:
        return ()
    names = dict.fromkeys((*one.traits, *other.traits))
    return tuple(n for n in names if one.traits.get(n) != other.traits.get(n))


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


def _leg_hash(leg: Leg) -> str:
    # The order in which features are listed makes no difference to the piece.
    features = sorted(_text(f.model_dump(mode="json")) for f in leg.features)
    trims = [t.model_dump(mode="json") for t in leg.trims]
    return _hash([features, trims])


def _text(value: Any) -> str:  # noqa: ANN401 - any JSON value
    plain = {k: v for k, v in value.items() if k not in _NO_SHAPE}
    return json.dumps(plain, sort_keys=True, allow_nan=False)


def _hash(value: Any) -> str:  # noqa: ANN401 - any JSON value
    if isinstance(value, dict):
        value = {k: v for k, v in value.items() if k not in _NO_SHAPE}
    data = json.dumps(value, sort_keys=True, allow_nan=False).encode()
    return hashlib.sha256(data).hexdigest()
