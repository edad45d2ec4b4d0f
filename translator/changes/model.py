"""What is told of a change: words for a person, and old and new values exact enough to do it."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any, Final, Literal

from msgspec import Struct, field

Weight = Literal["metal", "work", "paper", "rounding"]
"""What a change touches.

``metal``: the shape: section, length, ends, cuts, holes, marks on the steel. ``work``: the same
shape, but other steel, another number of pieces, or made or finished otherwise. ``paper``: only
what is written. ``rounding``: figures that differ by less than a file's last decimal; no change.
"""

WEIGHTS: Final[tuple[Weight, ...]] = ("metal", "work", "paper", "rounding")
"""The heaviest first."""

Lie = Literal["as before", "turned end for end", "turned over", "turned both ways"]
"""How the piece of the new drawing lies to that of the old one."""

Kind = Literal[
    "moved",
    "changed",
    "added",
    "removed",
    "section",
    "length",
    "end",
    "trim",
    "outline",
    "said",
    "waiver",
    "turned",
    "renamed",
    "rounding",
    "whole",
]
"""What sort of change; ``moved`` to ``removed`` are of features, ``said`` of the part's words."""


class Item(Struct, frozen=True, kw_only=True):
    """One value that is another now.

    Attributes:
        path: of the value in the part: "length_mm", "section", "ends.far", "remarks",
            "legs.a.features", "legs.a.trims", "waivers"; "" for the part as a whole.
        old: as part JSON has it, millimetres and degrees; None where there was none.
        new: likewise; None where there is none any more.
    """

    path: str
    old: Any
    new: Any


class Change(Struct, frozen=True, kw_only=True):
    """One thing that a checker would say on the phone.

    Attributes:
        kind: what sort of change.
        weight: what it touches.
        leg: "a", "b" or "face" of a change of one leg, else "".
        text: in shop words and the author's units.
        items: each value that it changes.
    """

    kind: Kind
    weight: Weight
    leg: str
    text: str
    items: tuple[Item, ...]


class Told(Struct, frozen=True, kw_only=True):
    """All that changed between two states of a part.

    Attributes:
        lie: how the old piece must be turned before its values are those of the items.
        hand: a warning where the new piece is, or nearly is, the mirror image of the old; else "".
        ids: id of a feature of the old part -> its id in the new one, where they differ.
        changes: in the order in which they are told.
        largest_rounding_mm: the largest difference that counts as rounding.
    """

    lie: Lie = "as before"
    hand: str = ""
    ids: Mapping[str, str] = field(default_factory=lambda: _NO_IDS)
    changes: tuple[Change, ...] = ()
    largest_rounding_mm: float = 0.0

    @property
    def weight(self) -> Weight | None:
        """The heaviest weight of all changes, None where there is none, not even rounding."""
        return heaviest(change.weight for change in self.changes)


_NO_IDS: Final[Mapping[str, str]] = MappingProxyType({})


def heaviest(weights: Iterable[Weight]) -> Weight | None:
    """Return the heaviest of some weights, None when there are none."""
    return min(weights, key=WEIGHTS.index, default=None)
