"""The same piece under another mark, found by its geometry."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import takewhile
from typing import Final

from translator.changes.model import Told
from translator.changes.naming import in_order
from translator.changes.shape import sizes
from translator.geometry.identity import piece_key
from translator.model import Part, Placed, leg_names, leg_of

_MOST_TRIES: Final = 2_000
"""Pairs of marks that are held against each other for the sake of a rounding."""

_NEAR_MM: Final = 0.05

Comparer = Callable[[Placed, Placed], Told]
Rename = tuple[Placed, Placed, Told]


def _key(part: Part) -> str:
    """Return the same text for parts of one shape, whatever they are made of or called."""
    bare = part.model_copy(update={"grade": None, "finish": None, "second_work": ()})
    return piece_key(bare)


def _quick(part: Part) -> tuple[object, ...]:
    """Return what parts of one shape have in common and is quick to tell, however they lie."""
    return (part.length_mm, *_sizes(part), *_kinds(part))


def _sizes(part: Part) -> list[float]:
    return sorted(v for v in sizes(part) if isinstance(v, float))


def _kinds(part: Part) -> list[str]:
    return sorted(f.kind for leg in leg_names(part) for f in leg_of(part, leg).features)


def renames(gone: Iterable[Placed], come: Iterable[Placed], told: Comparer) -> Iterator[Rename]:
    """Yield parts that are one piece under an old and a new mark, and what else changed.

    First those of equal geometry, then those that differ by rounding; of several the marks are
    paired in their order.
    """
    left = sorted(gone, key=lambda p: in_order(p.part.mark))
    right = sorted(come, key=lambda p: in_order(p.part.mark))
    found = list(_exactly(left, right, told))
    yield from found
    taken = {id(p) for pair in found for p in pair[:2]}
    rest = [p for p in left if id(p) not in taken]
    others = [p for p in right if id(p) not in taken]
    if rest and others:
        yield from _nearly(rest, others, told)


def _exactly(left: Sequence[Placed], right: Sequence[Placed], told: Comparer) -> Iterator[Rename]:
    groups: dict[object, tuple[list[Placed], list[Placed]]] = {}
    for placed in left:
        groups.setdefault(_quick(placed.part), ([], []))[0].append(placed)
    for placed in right:
        key = _quick(placed.part)
        if key in groups:
            groups[key][1].append(placed)
    for ours, theirs in groups.values():
        for one, two in _candidates(ours, theirs):
            what = told(one, two)
            if _is_only_another_name(what):
                yield one, two, what


def _candidates(
    ours: Sequence[Placed], theirs: Sequence[Placed]
) -> Iterator[tuple[Placed, Placed]]:
    if len(ours) == len(theirs) == 1:
        yield ours[0], theirs[0]
        return
    if not theirs:
        return
    found: dict[str, list[Placed]] = defaultdict(list)
    for two in reversed(theirs):
        found[_key(two.part)].append(two)
    for one in ours:
        partners = found.get(_key(one.part))
        if partners:
            yield one, partners.pop()


def _is_only_another_name(told: Told) -> bool:
    metal = [c for c in told.changes if c.weight == "metal" and c.kind != "renamed"]
    return not metal and not told.hand


def _nearly(left: Sequence[Placed], right: Sequence[Placed], told: Comparer) -> Iterator[Rename]:
    groups: dict[tuple[str, ...], list[Placed]] = defaultdict(list)
    for two in sorted(right, key=lambda p: p.part.length_mm):
        groups[tuple(_kinds(two.part))].append(two)
    tries = 0
    for one in left:
        group = groups.get(tuple(_kinds(one.part)), [])
        for two in tuple(_near(one.part, group)):
            tries += 1
            what = told(one, two)
            if _is_only_another_name(what):
                group.remove(two)
                yield one, two, what
                break
        if tries > _MOST_TRIES:
            return


def _near(one: Part, group: Sequence[Placed]) -> Iterator[Placed]:
    """Yield the parts of a group, sorted by length, whose length and sizes are nearly the same."""
    first = bisect_left(group, one.length_mm - _NEAR_MM, key=lambda p: p.part.length_mm)
    most = one.length_mm + _NEAR_MM
    own = _sizes(one)
    for two in takewhile(lambda p: p.part.length_mm <= most, group[first:]):
        theirs = _sizes(two.part)
        if len(own) == len(theirs) and all(
            abs(a - b) <= _NEAR_MM for a, b in zip(own, theirs, strict=True)
        ):
            yield two


class Families:
    """The marks that stand on both sides, by their shape."""

    def __init__(self, both: Iterable[tuple[Placed, Placed]]) -> None:
        # Of several the one whose quantity changed most is told: pieces came from or went to it.
        ordered = sorted(both, key=lambda pair: -abs(pair[1].part.quantity - pair[0].part.quantity))
        self._old: dict[object, list[tuple[Placed, Placed]]] = defaultdict(list)
        self._new: dict[object, list[tuple[Placed, Placed]]] = defaultdict(list)
        for pair in ordered:
            self._old[_quick(pair[0].part)].append(pair)
            self._new[_quick(pair[1].part)].append(pair)
        self._keys: dict[int, str] = {}

    def of_new(self, one: Placed) -> tuple[Placed, Placed] | None:
        """Return the mark that has the shape of a part now, as it was and as it is."""
        return self._found(one, self._new, 1)

    def of_old(self, two: Placed) -> tuple[Placed, Placed] | None:
        """Return the mark that had the shape of a part before, as it was and as it is."""
        return self._found(two, self._old, 0)

    def _found(
        self, placed: Placed, among: dict[object, list[tuple[Placed, Placed]]], side: int
    ) -> tuple[Placed, Placed] | None:
        pairs = among.get(_quick(placed.part))
        if not pairs:
            return None
        key = _key(placed.part)
        return next((pair for pair in pairs if self._key_of(pair[side]) == key), None)

    def _key_of(self, placed: Placed) -> str:
        if id(placed) not in self._keys:
            self._keys[id(placed)] = _key(placed.part)
        return self._keys[id(placed)]
