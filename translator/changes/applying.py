"""Do to an old part what was told of it: the proof that a list of changes misses nothing."""

import json
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final, TypeVar

from msgspec.structs import replace
from pydantic import TypeAdapter

from translator.changes.alike import traits
from translator.changes.model import Item, Lie, Told
from translator.changes.said_changes import LISTS, SAID, stated_that_differ
from translator.changes.shape import (
    NOISE_MM,
    in_one_telling,
    in_trims,
    same_sizes,
    shape_difference,
)
from translator.changes.shape_changes import radii_that_differ
from translator.geometry.identity import turned, turned_over
from translator.model import Feature, Flat, Part, Section, Stated, Trim, Waiver, leg_names, leg_of

Value = TypeVar("Value")


def prepared(part: Part) -> Part:
    """Return a part with its shape in one telling: by cuts and trims where that can be had."""
    return in_one_telling(in_trims(part))


def laid(part: Part, lie: Lie) -> Part:
    """Return a part turned as a new drawing shows it."""
    if lie in ("turned end for end", "turned both ways"):
        part = turned(part)
    if lie in ("turned over", "turned both ways"):
        part = turned_over(part)
    return part


def applied(old: Part, told: Told) -> Part:
    """Return the new part, made from the old one and what was told.

    The result equals the new part apart from spelling: order of features and trims, the unit,
    names of sections, outlines told corner by corner.

    Raises:
        ValueError: for changes that were not told of this part.
    """
    return Part.model_validate_json(done(prepared(old), told).model_dump_json())


def done(part: Part, told: Told) -> Part:
    """Return a prepared part after what was told of it; each new value is validated by itself."""
    items = [item for change in told.changes for item in change.items]
    whole = next((item for item in items if not item.path), None)
    if whole is not None:
        return Part.model_validate_json(json.dumps(whole.new))
    part = laid(part, told.lie)
    legs: dict[str, object] = {}
    for leg in leg_names(part):
        own = leg_of(part, leg)
        features = _of(items, f"legs.{leg}.features")
        trims = _of(items, f"legs.{leg}.trims")
        legs[leg] = own.model_copy(
            update={
                "features": _features(own.features, features, told.ids),
                "trims": _replaced(own.trims, trims, _TRIM),
            }
        )
    fields: dict[str, object] = {"legs": part.legs.model_copy(update=legs)}
    waivers = _of(items, "waivers")
    kept = _replaced(part.waivers, [replace(item, new=None) for item in waivers], _WAIVER)
    come = [_read(_WAIVER, item.new) for item in waivers if item.new is not None]
    fields["waivers"] = (*(_renumbered(waiver, told.ids) for waiver in kept), *come)
    for item in items:
        fields |= _field(part, item)
    for end in _ENDS:
        for item in _of(items, f"ends.{end}"):
            ends = fields.get("ends", part.ends)
            cut = type(part.ends.start).model_validate_json(json.dumps(item.new))
            fields["ends"] = type(part.ends)(**{**dict(ends), end: cut})  # type: ignore[call-overload]
    return part.model_copy(update=fields)


_FEATURE: Final[TypeAdapter[Feature]] = TypeAdapter(Feature)
_TRIM: Final[TypeAdapter[Trim]] = TypeAdapter(Trim)
_SECTION: Final[TypeAdapter[Section]] = TypeAdapter(Section)
_WAIVER: Final = TypeAdapter(Waiver)
_STATED: Final = TypeAdapter(Stated)
_ENDS: Final = ("start", "far")


def _of(items: Sequence[Item], path: str) -> list[Item]:
    return [item for item in items if item.path == path]


def _read(adapter: TypeAdapter[Value], value: object) -> Value:
    return adapter.validate_json(json.dumps(value))


def _features(
    features: Sequence[Feature], items: Sequence[Item], ids: Mapping[str, str]
) -> tuple[Feature, ...]:
    gone = {item.old["id"] for item in items if item.old is not None}
    kept = [
        f.model_copy(update={"id": ids[f.id]}) if f.id in ids else f
        for f in features
        if f.id not in gone
    ]
    if len(kept) + len(gone) != len(features):
        raise ValueError(f"not all of {sorted(gone)} are features of the old part")
    return (*kept, *(_read(_FEATURE, item.new) for item in items if item.new is not None))


def _replaced(
    values: Sequence[Value], items: Sequence[Item], adapter: TypeAdapter[Value]
) -> tuple[Value, ...]:
    left = list(values)
    for item in items:
        if item.old is not None:
            left.remove(_read(adapter, item.old))
    return (*left, *(_read(adapter, item.new) for item in items if item.new is not None))


def _renumbered(waiver: Waiver, ids: Mapping[str, str]) -> Waiver:
    name = waiver.feature
    if name is None or name not in ids:
        return waiver
    return waiver.model_copy(update={"feature": ids[name]})


def _field(part: Part, item: Item) -> dict[str, object]:
    """Return the new value of a field that is no list of features, trims or waivers."""
    if item.path == "section":
        return {"section": _read(_SECTION, item.new)}
    if item.path == "stated":
        return {"stated": _read(_STATED, item.new)}
    if item.path in ("waivers", "legs", "ends") or item.path not in type(part).model_fields:
        return {}
    return {item.path: tuple(item.new) if isinstance(item.new, list) else item.new}


def is_same(one: Part, two: Part) -> bool:
    """Tell whether two parts are equal apart from spelling, ids included."""
    return (
        one.mark == two.mark
        and all((getattr(one, n) or None) == (getattr(two, n) or None) for n, _, _ in SAID)
        and all(Counter(getattr(one, n)) == Counter(getattr(two, n)) for n, _, _ in LISTS)
        and Counter(one.waivers) == Counter(two.waivers)
        and not stated_that_differ(one, two)
        and isinstance(one.section, Flat) == isinstance(two.section, Flat)
        and same_sizes(one, two)
        and not radii_that_differ(one, two)
        and one.length_mm == two.length_mm
        and _same_features(one, two)
        and shape_difference(one, two) <= NOISE_MM
    )


def _same_features(one: Part, two: Part) -> bool:
    return all(
        Counter((f.id, traits(f, one.mark).key) for f in leg_of(one, leg).features)
        == Counter((f.id, traits(f, two.mark).key) for f in leg_of(two, leg).features)
        for leg in leg_names(one)
    )
