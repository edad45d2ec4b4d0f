"""The same piece under another mark, found by its geometry."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from translator.changes.naming import in_order
from translator.changes.parts import compare_parts
from translator.changes.shape import sizes
from translator.geometry.identity import piece_key
from translator.model import Part, Placed, leg_names, leg_of

_MOST_TRIES: Final = 4000
"""Pairs of marks that are held against each other for the sake of a rounding."""

_NEAR_MM: Final = 0.05

Terms = Callable[[Placed, Placed], tuple[Part, Part]]


def _key(part: Part) -> str:
    """Return the same text for parts of one shape, whatever they are made of or called."""
    bare = part.model_copy(update={"grade": None, "finish": None, "second_work": ()})
    return piece_key(bare)


def _rough(part: Part) -> tuple[object, ...]:
    """Return what parts of one shape have in common and is quick to tell, however they lie."""
    figures = sorted(v for v in sizes(part) if isinstance(v, float))
    kinds = sorted(f.kind for leg in leg_names(part) for f in leg_of(part, leg).features)
    return (part.section.kind, len(figures), tuple(kinds))


def renames(
    gone: Sequence[Placed], come: Sequence[Placed], terms: Terms
) -> Iterator[tuple[Placed, Placed]]:
    """Yield parts that are one piece under an old and a new mark.

    First those of equal geometry, then those that differ by rounding; of several the marks are
    paired in their order.
    """
    left = sorted(gone, key=lambda p: in_order(p.part.mark))
    right = sorted(come, key=lambda p: in_order(p.part.mark))
    if not left or not right:
        return
    found: dict[str, list[Placed]] = defaultdict(list)
    for two in reversed(right):
        found[_key(two.part)].append(two)
    for one in tuple(left):
        partners = found.get(_key(one.part))
        if partners:
            two = partners.pop()
            left.remove(one)
            right.remove(two)
            yield one, two
    yield from _nearly(left, right, terms)


def _nearly(
    left: list[Placed], right: list[Placed], terms: Terms
) -> Iterator[tuple[Placed, Placed]]:
    groups: dict[tuple[object, ...], list[Placed]] = defaultdict(list)
    for two in right:
        groups[_rough(two.part)].append(two)
    tries = 0
    for one in left:
        for two in tuple(groups.get(_rough(one.part), ())):
            if tries >= _MOST_TRIES:
                return
            if not _is_near(one.part, two.part):
                continue
            tries += 1
            told = compare_parts(*terms(one, two))
            metal = [c for c in told.changes if c.weight == "metal" and c.kind != "renamed"]
            if not metal and not told.hand:
                groups[_rough(one.part)].remove(two)
                yield one, two
                break


def _is_near(one: Part, two: Part) -> bool:
    ours, theirs = ([v for v in sizes(p) if isinstance(v, float)] for p in (one, two))
    pairs = zip(sorted(ours), sorted(theirs), strict=True)
    is_near = all(abs(a - b) <= _NEAR_MM for a, b in pairs)
    return is_near and abs(one.length_mm - two.length_mm) <= _NEAR_MM


class Families:
    """The marks that stand on both sides, by their shape."""

    def __init__(self, both: Sequence[tuple[Placed, Placed]]) -> None:
        self._both = both
        self._old: dict[str, tuple[Placed, Placed]] | None = None
        self._new: dict[str, tuple[Placed, Placed]] | None = None

    def of_new(self, one: Placed) -> tuple[Placed, Placed] | None:
        """Return the mark that has the shape of a part now, as it was and as it is."""
        if self._new is None:
            self._new = self._by_key(1)
        return self._new.get(_key(one.part))

    def of_old(self, two: Placed) -> tuple[Placed, Placed] | None:
        """Return the mark that had the shape of a part before, as it was and as it is."""
        if self._old is None:
            self._old = self._by_key(0)
        return self._old.get(_key(two.part))

    def _by_key(self, side: int) -> dict[str, tuple[Placed, Placed]]:
        found: dict[str, tuple[Placed, Placed]] = {}
        # Of several the one whose quantity changed most is told: pieces came from or went to it.
        ordered = sorted(
            self._both, key=lambda pair: abs(pair[1].part.quantity - pair[0].part.quantity)
        )
        for pair in ordered:
            found[_key(pair[side].part)] = pair
        return found
