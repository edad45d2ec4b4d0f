"""What changed about the features of a leg, like changes told together."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.changes.alike import BODY, Traits, rounding_between, traits
from translator.changes.feature_words import (
    Crowd,
    became,
    counted,
    gauge,
    noun,
    station,
    step_words,
    which,
)
from translator.changes.matching import Matching, match
from translator.changes.model import Change, Item, Weight, heaviest
from translator.model import CentreMark, Feature, Hole, LegName, Part, Slot, leg_of, on_grid
from translator.pages._words import across, leg_words

_PAPER: Final = frozenset({"bolt", "purpose", "may_move"})
"""Fields that say what a feature is for; they move no metal."""

_WORK: Final = frozenset({"process"})
_MARK_ONLY: Final = "mark-only"
_MOST_PLACES: Final = 6


class LegChanges(Struct, frozen=True, kw_only=True):
    """What changed about the features of one leg.

    Attributes:
        changes: in the order in which they are told.
        ids: id of each old feature that has a partner -> the id of that.
        largest_rounding_mm: of the pairs that differ by rounding only.
    """

    changes: tuple[Change, ...]
    ids: dict[str, str]
    largest_rounding_mm: float


class _Pair(Struct, frozen=True, kw_only=True):
    """An old feature and what it became."""

    old: Feature
    new: Feature
    dx: float
    dy: float
    words: tuple[str, ...]
    weight: Weight


class _Leg(Struct, frozen=True, kw_only=True):
    """Both states of a leg; its features counted, the old ones by name, the new ones by traits."""

    name: LegName
    part: Part
    old: Sequence[Feature]
    new: Sequence[Feature]
    longer: float
    crowd: Crowd
    twins: Mapping[Traits, int]

    @property
    def path(self) -> str:
        return f"legs.{self.name}.features"


def feature_changes(old: Part, new: Part, leg: LegName) -> LegChanges:
    """Tell the features of a leg of the old part from those of the new one."""
    before, after = leg_of(old, leg).features, leg_of(new, leg).features
    if before == after:
        return LegChanges(changes=(), ids={f.id: f.id for f in before}, largest_rounding_mm=0.0)
    ours = [traits(f, old.mark) for f in before]
    theirs = [traits(f, new.mark) for f in after]
    both = _Leg(
        name=leg,
        part=new,
        old=before,
        new=after,
        longer=on_grid(new.length_mm - old.length_mm),
        crowd=Crowd.of(before, new),
        twins=Counter(theirs),
    )
    found = match(ours, theirs, both.longer)
    pairs = [_pair(both, ours, theirs, i, j) for i, j in found.other]
    changes = (
        *_moved_and_changed(both, pairs),
        *_without_partner(both, [both.old[i] for i in found.removed], "removed"),
        *_without_partner(both, [both.new[j] for j in found.added], "added"),
    )
    rounding, largest = _rounding(both, ours, theirs, found)
    matched = (*found.same, *found.rounded, *found.other)
    return LegChanges(
        changes=(*changes, *rounding),
        ids={both.old[i].id: both.new[j].id for i, j in matched},
        largest_rounding_mm=largest,
    )


def _pair(both: _Leg, ours: Sequence[Traits], theirs: Sequence[Traits], i: int, j: int) -> _Pair:
    one, two = ours[i], theirs[j]
    old, new = both.old[i], both.new[j]
    dx, dy = on_grid(two.x - one.x), on_grid(two.y - one.y)
    words = () if one.body == two.body else tuple(became(old, new, both.part))
    return _Pair(
        old=old, new=new, dx=dx, dy=dy, words=words, weight=_weight(one, two, bool(dx or dy))
    )


def _weight(one: Traits, two: Traits, moved: bool) -> Weight:  # noqa: FBT001 - a private rule
    if moved or one.kind != two.kind or one.is_line:
        return "metal"
    both = zip(BODY[one.kind], one.body, two.body, strict=True)
    differ = {name: (a, b) for name, a, b in both if a != b}
    if differ.keys() - _PAPER - _WORK or _MARK_ONLY in differ.get("process", ()):
        return "metal"
    return "work" if differ.keys() & _WORK else "paper"


def _moved_and_changed(both: _Leg, pairs: Sequence[_Pair]) -> Iterator[Change]:
    groups: dict[tuple[object, ...], list[_Pair]] = {}
    for pair in pairs:
        is_moved_only = not pair.words
        what = noun(pair.old, both.part)
        key = (pair.dx, pair.dy, pair.words, pair.weight, what, is_moved_only)
        groups.setdefault(key, []).append(pair)
    for group in _whole_leg(both, pairs) or groups.values():
        moved = bool(group[0].dx or group[0].dy)
        yield Change(
            kind="moved" if moved else "changed",
            weight=heaviest(pair.weight for pair in group) or "metal",
            leg=both.name,
            text=f"{leg_words(both.name)}: {_pairs_words(both, group)}",
            items=tuple(_item(both, pair.old, pair.new) for pair in group),
        )


def _whole_leg(both: _Leg, pairs: Sequence[_Pair]) -> list[list[_Pair]]:
    """Return all pairs as one group where everything on the leg moved by one step."""
    steps = {(pair.dx, pair.dy) for pair in pairs}
    if len(pairs) < 2 or len(pairs) < len(both.old) or len(steps) > 1:  # noqa: PLR2004
        return []
    if any(pair.words for pair in pairs) or steps == {(0.0, 0.0)}:
        return []
    return [list(pairs)]


def _pairs_words(both: _Leg, group: Sequence[_Pair]) -> str:
    first, part = group[0], both.part
    old = [pair.old for pair in group]
    nouns = {noun(f, part) for f in old}
    words = list(first.words)
    if words:
        words = became(first.old, first.new, part, len(group))
    if len(nouns) > 1:
        subject = f"everything on it ({counted(old, part)})"
    else:
        subject = which(old, both.crowd, part)
    if first.dx or first.dy:
        one = len(group) == 1
        told = _one_move(both, first, subject) if one else _many_moves(both, group, subject)
        return " and ".join([told, *words])
    return f"{subject} {' and '.join(words)}"


def _one_move(both: _Leg, pair: _Pair, subject: str) -> str:
    part = both.part
    if across(pair.old) is None:  # a line is told by how far it moved
        return f"{subject} moved {step_words(pair.dx, pair.dy, part)}"
    if not pair.dx:
        subject = subject.removesuffix(f", {gauge(pair.old, part)}")
        return f"{subject} moved from {gauge(pair.old, part)} to {gauge(pair.new, part)}"
    to = station(pair.new, part)
    if pair.dy:
        if not subject.endswith(gauge(pair.old, part)):
            subject = f"{subject}, {gauge(pair.old, part)}"
        return f"{subject} moved to {to}, {gauge(pair.new, part)}"
    return f"{subject} moved to {to}{_with_end(both, pair)}"


def _many_moves(both: _Leg, group: Sequence[_Pair], subject: str) -> str:
    first, part = group[0], both.part
    gauges = {gauge(pair.old, part) for pair in group}
    is_bored = isinstance(first.old, Hole | Slot | CentreMark)
    if not first.dx and len(gauges) == 1 and is_bored:
        was = gauge(first.old, part)
        bare = subject.removesuffix(f", {was}")
        return f"{bare} at {was} moved to {gauge(first.new, part)}"
    return f"{subject} moved {step_words(first.dx, first.dy, part)}{_with_end(both, first)}"


def _with_end(both: _Leg, pair: _Pair) -> str:
    """Say of what moved along with the far end that it keeps its distance from there."""
    return ", with the far end" if pair.dx == both.longer and pair.dx and not pair.dy else ""


def _item(both: _Leg, old: Feature | None, new: Feature | None) -> Item:
    return Item(
        path=both.path,
        old=None if old is None else old.model_dump(mode="json"),
        new=None if new is None else new.model_dump(mode="json"),
    )


def _without_partner(both: _Leg, features: Sequence[Feature], what: str) -> Iterator[Change]:
    groups: dict[str, list[Feature]] = {}
    for feature in features:
        groups.setdefault(noun(feature, both.part), []).append(feature)
    is_added = what == "added"
    for group in groups.values():
        yield Change(
            kind="added" if is_added else "removed",
            weight="metal",
            leg=both.name,
            text=f"{leg_words(both.name)}: {_alone_words(both, group, is_added=is_added)}",
            items=tuple(_item(both, None, f) if is_added else _item(both, f, None) for f in group),
        )


def _alone_words(both: _Leg, group: Sequence[Feature], *, is_added: bool) -> str:
    part = both.part
    what = "added" if is_added else "removed"
    first, count = group[0], len(group)
    if not is_added and count > 1:
        return f"{which(group, both.crowd, part)} {what}"
    places = ", ".join(station(f, part) for f in group[:_MOST_PLACES])
    more = f" and {count - _MOST_PLACES} more" if count > _MOST_PLACES else ""
    lines = list(dict.fromkeys(gauge(f, part) for f in group))
    line = f", {lines[0]}" if len(lines) == 1 else f", gauges {_gauges(lines)}"
    number = "" if count == 1 else f"{count} "
    is_twice = is_added and all(both.twins[traits(f, both.part.mark)] > 1 for f in group)
    twice = " (one more at the same place)" if is_twice else ""
    return f"{number}{noun(first, part, count)} at {places}{more}{line} {what}{twice}"


def _gauges(lines: Sequence[str]) -> str:
    bare = [line.removeprefix("gauge ") for line in lines[:_MOST_PLACES]]
    return ", ".join(bare) + (" and more" if len(lines) > _MOST_PLACES else "")


def _rounding(
    both: _Leg, ours: Sequence[Traits], theirs: Sequence[Traits], found: Matching
) -> tuple[tuple[Change, ...], float]:
    if not found.rounded:
        return (), 0.0
    largest = 0.0
    for i, j in found.rounded:
        largest = max(largest, rounding_between(ours[i], theirs[j]) or 0.0)
    number = len(found.rounded)
    what = "feature differs" if number == 1 else "features differ"
    change = Change(
        kind="rounding",
        weight="rounding",
        leg=both.name,
        text=f"{leg_words(both.name)}: {number} {what} by rounding only",
        items=tuple(_item(both, both.old[i], both.new[j]) for i, j in found.rounded),
    )
    return (change,), largest
