"""What changed between two states of one part, proved by doing it."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from msgspec.structs import replace

from translator.changes.alike import ROUNDING_MM, traits
from translator.changes.applying import done, is_same, laid, prepared
from translator.changes.feature_changes import feature_changes
from translator.changes.matching import unlike
from translator.changes.model import Change, Item, Lie, Told
from translator.changes.said_changes import said_changes
from translator.changes.shape_changes import shape_changes
from translator.geometry.identity import mirrored
from translator.geometry.turning import depends_on_face
from translator.model import CentreMark, Flat, Hole, LegName, Part, Slot, Stamp, leg_names, leg_of
from translator.tables.designations import designation_of

FEWEST_CHANGES: Final = 4
"""A piece is looked at turned or mirrored only for the sake of at least so many changes, or when
nothing at all is left to change then."""

FEWER_TIMES: Final = 4
"""So many times fewer changes of metal must be left for a piece to be taken as turned."""

_TURNS: Final[tuple[Lie, ...]] = ("turned end for end", "turned over", "turned both ways")


def compare_parts(old: Part, new: Part) -> Told:
    """Tell what changed from one part to another, in the units of the new one.

    Nothing is told exactly when both are equal apart from spelling: ids, the order of features
    and trims, the unit, the name of a section, and whether a shape is told by cuts or corner by
    corner. Whatever is told, doing it to the old part gives the new one; this is tried each time,
    and where it fails the part is told as changed as a whole.
    """
    if old == new:
        return Told()
    one, two = prepared(old), prepared(new)
    if isinstance(one.section, Flat) != isinstance(two.section, Flat):
        return _as_a_whole(old, new, _other_section(one, two))
    told = _told(one, two, "as before")
    if _metal(told):
        told = _turned(one, two, told)
        told = replace(told, hand=_hand(one, two, told))
    if not is_same(done(one, told), two):
        return _as_a_whole(old, new, "differs in a way that has no words here")
    return told


def _told(old: Part, new: Part, lie: Lie) -> Told:
    """Tell one prepared part from another, the old one turned as said."""
    old = laid(old, lie)
    shape, rounded = shape_changes(old, new)
    legs = [feature_changes(old, new, leg) for leg in leg_names(old)]
    ids = {one: two for leg in legs for one, two in leg.ids.items()}
    changes = [*shape, *(change for leg in legs for change in leg.changes)]
    changes += said_changes(old, new, ids)
    return Told(
        lie=lie,
        ids=MappingProxyType({one: two for one, two in ids.items() if one != two}),
        changes=tuple(changes),
        largest_rounding_mm=max((rounded, *(leg.largest_rounding_mm for leg in legs))),
    )


def _metal(told: Told) -> int:
    """Count the values that are another now and move metal."""
    return sum(len(change.items) for change in told.changes if change.weight == "metal")


def _is_far_fewer(left: int, before: int) -> bool:
    return left == 0 or (before >= FEWEST_CHANGES and left * FEWER_TIMES <= before)


def _turned(old: Part, new: Part, direct: Told) -> Told:
    """Return the changes with the old piece turned, where they are far fewer then."""
    before = _metal(direct)
    ways = [lie for lie in _turns_of(old) if _may_be(old, new, before, lie, is_mirrored=False)]
    if not ways:
        return direct
    counts = {lie: _unlike(laid(old, lie), new) for lie in ways}
    best = min(counts, key=lambda lie: counts[lie])
    left = counts[best]
    if not _is_far_fewer(left, before):
        return direct
    told = _told(old, new, best)
    said = "same piece, now drawn" if not _metal(told) else "looks like the same piece, now drawn"
    turn = Change(kind="turned", weight="paper", leg="", text=f"{said} {best}", items=())
    return replace(told, changes=(turn, *told.changes))


def _turns_of(part: Part) -> tuple[Lie, ...]:
    has_one = not isinstance(part.section, Flat) or depends_on_face(part)
    return _TURNS[:1] if has_one else _TURNS


def _may_be(old: Part, new: Part, before: int, lie: Lie, *, is_mirrored: bool) -> bool:
    """Tell by the x of holes, slots and marks whether a piece can be another turned or mirrored."""
    if abs(old.length_mm - new.length_mm) > ROUNDING_MM:
        return False
    is_reversed = (lie in ("turned end for end", "turned both ways")) != is_mirrored
    is_exchanged = lie != "as before" and not isinstance(old.section, Flat)
    off = 0
    for leg in leg_names(new):
        source = _OTHER[leg] if is_exchanged else leg
        ours = _stations(old, source, old.length_mm if is_reversed else None)
        theirs = _stations(new, leg, None)
        off += max(len(ours), len(theirs)) - _in_common(ours, theirs)
    return _is_far_fewer(off, before)


_OTHER: Final[Mapping[LegName, LegName]] = {"a": "b", "b": "a", "face": "face"}


def _stations(part: Part, leg: LegName, from_far: float | None) -> list[float]:
    xs = [f.x_mm for f in leg_of(part, leg).features if isinstance(f, Hole | Slot | CentreMark)]
    return sorted(xs if from_far is None else [from_far - x for x in xs])


def _in_common(ours: Sequence[float], theirs: Sequence[float]) -> int:
    """Count how many of two sorted lists pair up within two roundings."""
    i = j = count = 0
    while i < len(ours) and j < len(theirs):
        off = ours[i] - theirs[j]
        if abs(off) <= 2.0 * ROUNDING_MM:
            i, j, count = i + 1, j + 1, count + 1
        elif off < 0:
            i += 1
        else:
            j += 1
    return count


def _unlike(old: Part, new: Part, *, with_stamps: bool = True) -> int:
    """Count in how many things of metal two prepared parts differ; quick, without words."""
    count = sum(
        unlike(
            *(
                [
                    traits(f, part.mark)
                    for f in leg_of(part, leg).features
                    if with_stamps or not isinstance(f, Stamp)
                ]
                for part in (old, new)
            )
        )
        for leg in leg_names(old)
    )
    if not count or count * FEWER_TIMES <= _features(new):
        shape, _ = shape_changes(old, new)
        count += sum(len(c.items) for c in shape if c.weight != "rounding")
    return count


def _features(part: Part) -> int:
    return sum(len(leg_of(part, leg).features) for leg in leg_names(part))


def _hand(old: Part, new: Part, told: Told) -> str:
    """Return a warning where the new piece is, or nearly is, the opposite hand of the old one."""
    before = _metal(told)
    if not before:
        return ""
    lies: tuple[Lie, ...] = ("as before", *_turns_of(old))
    ways = [lie for lie in lies if _may_be(old, new, before, lie, is_mirrored=True)]
    if not ways:
        return ""
    mirror = mirrored(old)
    # Letters have no mirror image, so nobody knows where the stamp of an opposite hand is.
    left = min(_unlike(laid(mirror, lie), new, with_stamps=False) for lie in ways)
    if left == 0:
        return "is now the mirror image of what it was: check the hand"
    if _is_far_fewer(left, before):
        more = "change" if left == 1 else "changes"
        return f"is now nearly the mirror image of what it was ({left} more {more}): check the hand"
    return ""


def _other_section(old: Part, new: Part) -> str:
    names = [part.section.designation or designation_of(part.section) for part in (old, new)]
    if isinstance(old.section, Flat):
        return f"a flat became an angle: {names[0]} became {names[1]}, and with it the face"
    return f"an angle became a flat: {names[0]} became {names[1]}, and with it both legs"


def _as_a_whole(old: Part, new: Part, text: str) -> Told:
    """Return the two parts as one change: nothing is left out where nothing can be said."""
    item = Item(path="", old=old.model_dump(mode="json"), new=new.model_dump(mode="json"))
    change = Change(
        kind="whole",
        weight="metal",
        leg="",
        text=f"{text}; hold both drawings against each other",
        items=(item,),
    )
    said = tuple(said_changes(old, new, {}))
    return Told(changes=(change, *(replace(one, items=()) for one in said if one.kind != "waiver")))
