"""What changed about the bar and its cuts: section, length, ends, and the trims of each leg."""

from collections.abc import Iterator, Sequence
from typing import Any, Final

from msgspec.structs import replace

from translator.changes.alike import ROUNDING_DEG, ROUNDING_MM
from translator.changes.model import Change, Item
from translator.changes.shape import (
    NOISE_MM,
    OUTLINE_ROUNDING_MM,
    contours_apart,
    outlines,
    same_sizes,
    shape_difference,
    trim_keys,
)
from translator.changes.shape_words import (
    end_cut_words,
    outline_words,
    piece_length,
    trim_change_words,
    trim_words,
)
from translator.model import Angle, LegName, OutlineTrim, Part, Trim, leg_names, leg_of
from translator.model.trims import End, Notch
from translator.pages._words import leg_words, length
from translator.tables.designations import designation_of

_ENDS: Final[tuple[End, ...]] = ("start", "far")
_RADII: Final = (("root_radius_mm", "root radius"), ("toe_radius_mm", "toe radius"))


def shape_changes(old: Part, new: Part) -> tuple[tuple[Change, ...], float]:
    """Return what changed about section, length, ends and trims, and the largest rounding in mm.

    Both parts are of one kind of section, and told as ``shape.in_trims`` and
    ``shape.in_one_telling`` tell them.
    """
    changes = [*_section(old, new), *_length(old, new)]
    is_resized = any(change.weight != "rounding" for change in changes)
    apart = float("inf") if is_resized else shape_difference(old, new)
    if apart > NOISE_MM:
        cuts = [*_ends(old, new), *_trims(old, new, whole=is_resized)]
        if apart <= OUTLINE_ROUNDING_MM:
            cuts = [replace(change, weight="rounding") for change in cuts]
        elif not is_resized and all(change.weight == "rounding" for change in cuts):
            # Each figure is within rounding, yet all together move the outline by more.
            cuts = [replace(change, weight="metal") for change in cuts]
        changes += cuts
    rounded = [_largest(change) for change in changes if change.weight == "rounding"]
    if NOISE_MM < apart <= OUTLINE_ROUNDING_MM:
        rounded.append(apart)
    return tuple(changes), max(rounded, default=0.0)


def _largest(change: Change) -> float:
    return max((_off(item.old, item.new) for item in change.items), default=0.0)


def _off(old: Any, new: Any) -> float:  # noqa: ANN401 - any JSON value
    """Return by how much the lengths of two values differ at most; 0 where none can be held."""
    if isinstance(old, float) and isinstance(new, float):
        return abs(old - new)
    if isinstance(old, dict) and isinstance(new, dict):
        pairs = ((old.get(k), new.get(k)) for k in old if k.endswith("_mm"))
        return max((_off(a, b) for a, b in pairs), default=0.0)
    return 0.0


def _section(old: Part, new: Part) -> Iterator[Change]:
    one, two = old.section, new.section
    item = Item(path="section", old=one.model_dump(), new=two.model_dump())
    if not same_sizes(old, new):
        off = _off(item.old | _no_radii(), item.new | _no_radii())
        names = (one.designation or designation_of(one), two.designation or designation_of(two))
        if names[0] == names[1]:
            names = (designation_of(one), designation_of(two))
        yield Change(
            kind="section",
            weight="rounding" if off <= ROUNDING_MM else "metal",
            leg="",
            text=f"section {names[0]} became {names[1]}",
            items=(item,),
        )
        return
    differ = radii_that_differ(old, new)
    if differ:
        off = max(abs(a - b) for _, a, b in differ)
        words = [f"{n} {length(a, new)} became {length(b, new)}" for n, a, b in differ]
        yield Change(
            kind="section",
            weight="rounding" if off <= ROUNDING_MM else "metal",
            leg="",
            text=f"section: {', '.join(words)}",
            items=(item,),
        )


def _no_radii() -> dict[str, float]:
    return {name: 0.0 for name, _ in _RADII}


def radii_that_differ(old: Part, new: Part) -> list[tuple[str, float, float]]:
    """Return the radii of an angle that both parts know and that differ: name, old, new."""
    one, two = old.section, new.section
    if not isinstance(one, Angle) or not isinstance(two, Angle):
        return []
    pairs = [(words, getattr(one, name), getattr(two, name)) for name, words in _RADII]
    return [(words, a, b) for words, a, b in pairs if a != b and a and b]


def _length(old: Part, new: Part) -> Iterator[Change]:
    one, two = old.length_mm, new.length_mm
    if one != two:
        yield Change(
            kind="length",
            weight="rounding" if abs(one - two) <= ROUNDING_MM else "metal",
            leg="",
            text=f"length {piece_length(one, new)} became {piece_length(two, new)}",
            items=(Item(path="length_mm", old=one, new=two),),
        )


def _ends(old: Part, new: Part) -> Iterator[Change]:
    for end in _ENDS:
        one = getattr(old.ends, end).model_dump()
        two = getattr(new.ends, end).model_dump()
        if one == two:
            continue
        off = max(abs(one[name] - two[name]) for name in one)
        yield Change(
            kind="end",
            weight="rounding" if off <= ROUNDING_DEG else "metal",
            leg="",
            text=f"{end} end: {end_cut_words(one)} became {end_cut_words(two)}",
            items=(Item(path=f"ends.{end}", old=one, new=two),),
        )


def _trims(old: Part, new: Part, *, whole: bool) -> Iterator[Change]:
    ours, theirs = (None, None) if whole else (outlines(old), outlines(new))
    for leg in leg_names(old):
        one, two = leg_of(old, leg).trims, leg_of(new, leg).trims
        if trim_keys(one) == trim_keys(two):
            continue
        if ours and theirs and contours_apart(ours[leg], theirs[leg]) <= NOISE_MM:
            continue
        if any(isinstance(trim, OutlineTrim) for trim in (*one, *two)):
            yield _outline(old, new, leg)
        else:
            yield from _trims_of_leg(one, two, leg, new)


def _outline(old: Part, new: Part, leg: LegName) -> Change:
    one, two = leg_of(old, leg).trims, leg_of(new, leg).trims
    return Change(
        kind="outline",
        weight="metal",
        leg=leg,
        text=f"{leg_words(leg)}: {outline_words(old, new, leg)}",
        items=tuple(_trim_items(leg, one, two)),
    )


def _trim_items(leg: LegName, one: Sequence[Trim], two: Sequence[Trim]) -> Iterator[Item]:
    path = f"legs.{leg}.trims"
    yield from (Item(path=path, old=trim.model_dump(mode="json"), new=None) for trim in one)
    yield from (Item(path=path, old=None, new=trim.model_dump(mode="json")) for trim in two)


def _trims_of_leg(
    one: Sequence[Trim], two: Sequence[Trim], leg: LegName, part: Part
) -> Iterator[Change]:
    left, right = list(one), list(two)
    for trim in one:
        if trim in right:
            left.remove(trim)
            right.remove(trim)
    for old in left:
        new = _partner(old, right)
        if new is not None:
            right.remove(new)
        yield _trim_change(old, new, leg, part)
    for new in right:
        yield _trim_change(None, new, leg, part)


def _partner(old: Trim, among: Sequence[Trim]) -> Trim | None:
    """Return the trim that an old one became: that of its corner, or the nearest notch."""
    if isinstance(old, Notch):
        notches = [t for t in among if isinstance(t, Notch) and t.side == old.side]
        return min(notches, key=lambda t: abs(t.x_from_mm - old.x_from_mm), default=None)
    corner = (getattr(old, "end", None), getattr(old, "side", None))
    return next(
        (t for t in among if (getattr(t, "end", None), getattr(t, "side", None)) == corner), None
    )


def _trim_change(old: Trim | None, new: Trim | None, leg: LegName, part: Part) -> Change:
    is_rounding = old is not None and new is not None and _is_rounding(old, new)
    if old is None and new is not None:
        text = f"{trim_words(new, part)} added"
    elif old is not None and new is None:
        text = f"{trim_words(old, part)} removed"
    else:
        text = trim_change_words(old, new, part)
    return Change(
        kind="trim",
        weight="rounding" if is_rounding else "metal",
        leg=leg,
        text=f"{leg_words(leg)}: {text}",
        items=(
            Item(
                path=f"legs.{leg}.trims",
                old=None if old is None else old.model_dump(mode="json"),
                new=None if new is None else new.model_dump(mode="json"),
            ),
        ),
    )


def _is_rounding(old: Trim, new: Trim) -> bool:
    """Tell whether two trims of one corner differ by rounding only."""
    if old.kind != new.kind:
        return False
    one, two = dict(old), dict(new)
    return all(
        abs(value - two[name]) <= OUTLINE_ROUNDING_MM
        if isinstance(value, float)
        else value == two[name]
        for name, value in one.items()
    )
