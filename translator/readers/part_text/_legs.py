"""The legs of a part: what is made on each, in the order written."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from pydantic import ValidationError

from translator.model import Feature, Leg, LegName, Trim, feature_path, trim_path
from translator.readers.part_text import _trims as trims
from translator.readers.part_text._contours import openings, scribes
from translator.readers.part_text._features import Made, centre_marks, holes, slots, stamps
from translator.readers.part_text._positions import MOST_FEATURES
from translator.readers.part_text._scope import Scope
from translator.readers.part_text._sentences import sentences
from translator.syntax.tree import Extent, Node

_FEATURES: Final[Mapping[str, Callable[[Node, Scope], list[Made] | None]]] = MappingProxyType(
    {
        "holes": holes,
        "slots": slots,
        "centre_mark": centre_marks,
        "stamp": stamps,
        "opening": openings,
        "scribe": scribes,
    }
)
_TRIMS: Final[Mapping[str, Callable[[Node, Scope], Trim | None]]] = MappingProxyType(
    {
        "cope": trims.cope,
        "clip": trims.clip,
        "rounding": trims.rounding,
        "notch": trims.notch,
        "outline": trims.outline,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LegRead:
    """A leg as read, and the places of what is on it.

    Attributes:
        leg: features and trims without faults.
        places: element path -> place.
        is_whole: nothing of it was broken, so that its features can be counted.
    """

    leg: Leg
    places: Mapping[str, Extent]
    is_whole: bool


def derived_id(leg: LegName, number: int) -> str:
    """Return the id of a feature that has none written: the leg and a number from 1."""
    return f"{leg}{number}"


def read_leg(block: Node, name: LegName, scope: Scope) -> LegRead:
    """Read the block of one leg; faults are noted."""
    features: list[Feature] = []
    found_trims: list[Trim] = []
    places: dict[str, Extent] = {}
    errors, is_broken = scope.book.errors, False
    for statement in block.nodes():
        if statement.name in _FEATURES:
            made = _FEATURES[statement.name](statement, scope)
            if made is not None and _fits(made, features, statement, scope):
                _add(made, name, features, places, scope)
        elif statement.name in _TRIMS:
            trim = _trim(statement, scope)
            if trim is not None:
                places[trim_path(name, len(found_trims))] = statement.extent
                found_trims.append(trim)
        else:
            is_broken = True
    is_whole = not is_broken and scope.book.errors == errors
    try:
        leg = Leg(features=tuple(features), trims=tuple(found_trims))
    except ValidationError as error:
        for _, sentence in sentences(error):
            scope.book.say("value-out-of-range", sentence, block.children[0].extent)
        return LegRead(leg=Leg(), places=places, is_whole=False)
    return LegRead(leg=leg, places=places, is_whole=is_whole)


def _fits(made: list[Made], features: list[Feature], statement: Node, scope: Scope) -> bool:
    total = len(features) + len(made)
    if total <= MOST_FEATURES:
        return True
    scope.book.say(
        "too-many-features",
        f"{total} features are more than {MOST_FEATURES}, the most that a leg may have.",
        statement.extent,
    )
    return False


def _add(
    made: list[Made],
    name: LegName,
    features: list[Feature],
    places: dict[str, Extent],
    scope: Scope,
) -> None:
    """Give the features their ids; the first that the model refuses ends its statement."""
    for one in made:
        identity = one.id if one.id is not None else derived_id(name, len(features) + 1)
        try:
            feature = one.kind(id=identity, **one.fields)
        except ValidationError as error:
            for _, sentence in sentences(error):
                scope.book.say("value-out-of-range", sentence, one.extent)
            return
        places[feature_path(name, identity)] = one.extent
        features.append(feature)


def _trim(statement: Node, scope: Scope) -> Trim | None:
    try:
        return _TRIMS[statement.name](statement, scope)
    except ValidationError as error:
        for _, sentence in sentences(error):
            scope.book.say("value-out-of-range", sentence, statement.extent)
        return None
