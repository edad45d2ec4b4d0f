"""The legs of a part: what is made on each, in the order written."""

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Final

from msgspec import Struct
from pydantic import ValidationError

from translator.model import Feature, Leg, LegName, Trim, derived_id, feature_path, trim_path
from translator.readers.part_text import _trims as trims
from translator.readers.part_text._contours import openings, scribes
from translator.readers.part_text._ends import ends_of
from translator.readers.part_text._features import Made, centre_marks, holes, slots, stamps
from translator.readers.part_text._frames import Spot
from translator.readers.part_text._layers import Said
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
_AT_ENDS: Final = frozenset({"cope", "clip", "rounding"})


class LegRead(Struct, frozen=True, kw_only=True):
    """A leg as read, and the places of what is on it.

    Attributes:
        leg: features and trims without faults.
        places: element path -> place.
        is_whole: nothing of it was broken, so that its features can be counted.
    """

    leg: Leg
    places: Mapping[str, Spot]
    is_whole: bool


def read_leg(blocks: Iterable[Said], name: LegName, scope: Scope) -> LegRead:
    """Read the blocks of one leg, a family's before a part's own; faults are noted."""
    return _LegReading(name, scope).run(blocks)


class _LegReading:
    """One run over the block of one leg."""

    def __init__(self, name: LegName, scope: Scope) -> None:
        self.name = name
        self.scope = scope
        self.features: list[Feature] = []
        self.trims: list[Trim] = []
        self.places: dict[str, Spot] = {}

    def run(self, blocks: Iterable[Said]) -> LegRead:
        own, errors = self.scope, self.scope.book.errors
        is_broken = False
        leg = Leg()
        for block, frame in blocks:
            with own.under(frame) as self.scope:
                is_broken |= self._add_all(block)
                try:
                    leg = Leg(features=tuple(self.features), trims=tuple(self.trims))
                except ValidationError as error:
                    self._refuse(error, block.children[0].extent)
        is_whole = not is_broken and own.book.errors == errors
        return LegRead(leg=leg, places=self.places, is_whole=is_whole)

    def _add_all(self, block: Node) -> bool:
        """Add what the statements of a block make; tell whether one of them is broken."""
        is_broken = False
        for statement in block.nodes():
            if statement.name in _FEATURES:
                self._add_features(statement)
            elif statement.name in _TRIMS:
                self._add_trim(statement)
            else:
                is_broken = True
        return is_broken

    def _add_features(self, statement: Node) -> None:
        """Give a statement's features their ids; the first that the model refuses ends it."""
        made = _FEATURES[statement.name](statement, self.scope) or []
        total = len(self.features) + len(made)
        if total > MOST_FEATURES:
            message = f"{total} features are more than {MOST_FEATURES}, the most a leg may have."
            self.scope.book.say("too-many-features", message, statement.extent)
            return
        for one in made:
            number = len(self.features) + 1
            identity = derived_id(self.name, number) if one.id is None else one.id
            try:
                feature = one.kind(id=identity, **one.fields)
            except ValidationError as error:
                self._refuse(error, statement.extent)
                return
            path = feature_path(self.name, identity)
            if path in self.places:
                message = f"Two features have the id {identity}."
                self.scope.book.say("id-twice", message, one.extent)
            self.places[path] = self.scope.spot(one.extent)
            self.features.append(feature)

    def _add_trim(self, statement: Node) -> None:
        try:
            trim = _TRIMS[statement.name](statement, self.scope)
        except ValidationError as error:
            self._refuse(error, statement.extent)
            return
        if trim is None:
            return
        is_at_end = statement.name in _AT_ENDS
        for end in ends_of(statement) if is_at_end else (None,):
            path = trim_path(self.name, len(self.trims))
            self.places[path] = self.scope.spot(statement.extent)
            self.trims.append(trim if end is None else trim.model_copy(update={"end": end}))

    def _refuse(self, error: ValidationError, extent: Extent) -> None:
        for _, sentence in sentences(error):
            self.scope.book.say("value-out-of-range", sentence, extent)
