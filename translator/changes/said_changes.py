"""What changed about the words of a part: mark, quantity, grade, titles, remarks, waivers."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from translator.changes.feature_words import noun, station
from translator.changes.model import Change, Item, Weight
from translator.model import LegName, Part, Stamp, Waiver, leg_names, leg_of
from translator.pages._words import leg_words

SAID: Final[tuple[tuple[str, str, Weight], ...]] = (
    ("quantity", "quantity", "work"),
    ("grade", "grade", "work"),
    ("finish", "finish", "work"),
    ("revision", "revision", "paper"),
    ("title", "title", "paper"),
    ("order", "order", "paper"),
    ("drawing", "drawing", "paper"),
    ("phase", "phase", "paper"),
    ("lot", "lot", "paper"),
)
"""Field, its name in words, and what a change of it touches."""

LISTS: Final[tuple[tuple[str, str, Weight], ...]] = (
    ("second_work", "second work", "work"),
    ("remarks", "remark", "paper"),
    ("carried", "carried line", "paper"),
)

_QUOTED: Final = frozenset({"title", "finish"})
_MOST_LISTED: Final = 3


def said_changes(old: Part, new: Part, ids: Mapping[str, str]) -> Iterator[Change]:
    """Yield what changed about the words of a part.

    Args:
        old: the old part.
        new: the new part.
        ids: id of each old feature that has a partner in the new part -> the id of that.
    """
    if old.mark != new.mark:
        yield _renamed(old, new)
    for name, words, weight in SAID:
        one, two = getattr(old, name) or None, getattr(new, name) or None
        if one != two:
            yield _said(name, words, weight, one, two)
    for name, words, weight in LISTS:
        before, after = getattr(old, name), getattr(new, name)
        if Counter(before) != Counter(after):
            yield _list(name, words, weight, before, after)
    yield from _stated(old, new)
    yield from _waivers(old, new, ids)


def _renamed(old: Part, new: Part) -> Change:
    every = (f for leg in leg_names(new) for f in leg_of(new, leg).features)
    is_stamped = any(isinstance(f, Stamp) and f.text in (None, new.mark) for f in every)
    more = ", and so is its stamp" if is_stamped else ""
    return Change(
        kind="renamed",
        weight="metal" if is_stamped else "paper",
        leg="",
        text=f"{old.mark} is now called {new.mark}{more}",
        items=(Item(path="mark", old=old.mark, new=new.mark),),
    )


def _said(name: str, words: str, weight: Weight, one: Any, two: Any) -> Change:  # noqa: ANN401
    was, now = (f"\u201c{v}\u201d" if name in _QUOTED else str(v) for v in (one, two))
    if one is None:
        text = f"{words} is now {now} (was not said)"
    elif two is None:
        text = f"{words} is no longer said (was {was})"
    else:
        text = f"{words} {was} became {now}"
    return Change(
        kind="said",
        weight=weight,
        leg="",
        text=text,
        items=(Item(path=name, old=one, new=two),),
    )


def _list(
    name: str, words: str, weight: Weight, before: Sequence[str], after: Sequence[str]
) -> Change:
    gone = list((Counter(before) - Counter(after)).elements())
    come = list((Counter(after) - Counter(before)).elements())
    said = [
        f"{words}{'' if len(lines) == 1 else 's'} {_listed(lines)} {what}"
        for lines, what in ((gone, "gone"), (come, "added"))
        if lines
    ]
    return Change(
        kind="said",
        weight=weight,
        leg="",
        text="; ".join(said),
        items=(Item(path=name, old=list(before), new=list(after)),),
    )


def _listed(lines: Sequence[str]) -> str:
    shown = ", ".join(f"\u201c{line.strip()}\u201d" for line in lines[:_MOST_LISTED])
    more = len(lines) - _MOST_LISTED
    return f"{shown} and {more} more" if more > 0 else shown


def _stated(old: Part, new: Part) -> Iterator[Change]:
    """Yield what both sources state about the piece, and differently; it is never used."""
    if old.stated is None or new.stated is None:
        return
    one, two = old.stated.model_dump(), new.stated.model_dump()
    differ = stated_that_differ(old, new)
    if differ:
        words = ", ".join(f"{name} {one[key]:g} became {two[key]:g}" for key, name in differ)
        yield Change(
            kind="said",
            weight="paper",
            leg="",
            text=f"stated {words}",
            items=(Item(path="stated", old=one, new=two),),
        )


_STATED: Final = (
    ("mass_per_metre_kg", "mass per metre (kg)"),
    ("paint_area_per_metre_m2", "paint area per metre (m2)"),
    ("saw_length_mm", "saw length (mm)"),
)


def stated_that_differ(old: Part, new: Part) -> list[tuple[str, str]]:
    """Return field and name of the figures that both parts state, and differently."""
    if old.stated is None or new.stated is None:
        return []
    one, two = old.stated.model_dump(), new.stated.model_dump()
    return [
        (key, name)
        for key, name in _STATED
        if one[key] != two[key] and None not in (one[key], two[key])
    ]


def _waivers(old: Part, new: Part, ids: Mapping[str, str]) -> Iterator[Change]:
    left = list(old.waivers)
    right = list(new.waivers)
    for waiver in old.waivers:
        same = _renumbered(waiver, old, ids)
        if same in right:
            left.remove(waiver)
            right.remove(same)
    for waiver in left:
        what = _what(_renumbered(waiver, old, ids))
        partner = next((w for w in right if _what(w) == what), None)
        if partner is not None:
            right.remove(partner)
            yield _waiver(
                waiver, partner, f"changed: {_terms(waiver)} became {_terms(partner)}", old
            )
        else:
            yield _waiver(waiver, None, "gone", old)
    for waiver in right:
        yield _waiver(None, waiver, f"added: {_terms(waiver)}", new)


def _renumbered(waiver: Waiver, old: Part, ids: Mapping[str, str]) -> Waiver:
    """Return an old waiver with the new id of its feature; none where the feature is gone."""
    name = waiver.feature
    if name is None or not any(
        f.id == name for leg in leg_names(old) for f in leg_of(old, leg).features
    ):
        return waiver
    return waiver.model_copy(update={"feature": ids.get(name, "")})


def _what(waiver: Waiver) -> tuple[object, ...]:
    return (waiver.rule, waiver.leg, waiver.feature)


def _terms(waiver: Waiver) -> str:
    words = [f"\u201c{waiver.reason}\u201d"]
    words += [] if waiver.value is None else [f"at {waiver.value:g}"]
    limits = (
        ("by", waiver.by),
        ("until revision", waiver.until_revision),
        ("until", waiver.until_date),
    )
    return " ".join([*words, *(f"{word} {text}" for word, text in limits if text)])


def _waiver(old: Waiver | None, new: Waiver | None, what: str, part: Part) -> Change:
    waiver = old or new
    place = "" if waiver is None else _place(waiver, part)
    rule = "" if waiver is None else waiver.rule
    return Change(
        kind="waiver",
        weight="paper",
        leg="",
        text=f"waiver of {rule}{place} {what}",
        items=(
            Item(
                path="waivers",
                old=None if old is None else old.model_dump(mode="json"),
                new=None if new is None else new.model_dump(mode="json"),
            ),
        ),
    )


def _place(waiver: Waiver, part: Part) -> str:
    leg: LegName | None = waiver.leg
    if leg is None or leg not in leg_names(part):
        return f" on {leg_words(leg)}" if leg else ""
    feature = next((f for f in leg_of(part, leg).features if f.id == waiver.feature), None)
    if feature is None:
        more = f", {waiver.feature}" if waiver.feature else ""
        return f" on {leg_words(leg)}{more}"
    return f" on {leg_words(leg)}, {noun(feature, part)} at {station(feature, part)},"
