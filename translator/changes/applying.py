"""Do to an old part what was told of it: the proof that a list of changes misses nothing."""

import json
from collections import Counter
from collections.abc import Mapping
from typing import Any

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
from translator.model import Flat, Part, leg_names, leg_of


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
    document = laid(prepared(old), told.lie).model_dump(mode="json")
    items = [item for change in told.changes for item in change.items]
    for item in items:
        if not item.path:
            document = item.new
    legs = document["legs"]
    for leg in legs:
        own = [item for item in items if item.path == f"legs.{leg}.features"]
        legs[leg]["features"] = _features(legs[leg]["features"], own, told.ids)
        own = [item for item in items if item.path == f"legs.{leg}.trims"]
        legs[leg]["trims"] = _replaced(legs[leg]["trims"], own)
    own = [item for item in items if item.path == "waivers"]
    document["waivers"] = [
        waiver | {"feature": told.ids.get(waiver["feature"], waiver["feature"])}
        if not any(waiver is item.new for item in own)
        else waiver
        for waiver in _replaced(document["waivers"], own)
    ]
    for item in items:
        _set(document, item)
    return Part.model_validate_json(json.dumps(document))


def _features(
    features: list[dict[str, Any]], items: list[Item], ids: Mapping[str, str]
) -> list[dict[str, Any]]:
    gone = {item.old["id"] for item in items if item.old is not None}
    kept = [f | {"id": ids.get(f["id"], f["id"])} for f in features if f["id"] not in gone]
    if len(kept) + len(gone) != len(features):
        raise ValueError(f"not all of {sorted(gone)} are features of the old part")
    return kept + [item.new for item in items if item.new is not None]


def _replaced(values: list[Any], items: list[Item]) -> list[Any]:
    left = list(values)
    for item in items:
        if item.old is not None:
            left.remove(item.old)
    return left + [item.new for item in items if item.new is not None]


def _set(document: dict[str, Any], item: Item) -> None:
    """Set a value that is not a member of a list of features, trims or waivers."""
    if item.path.startswith("ends."):
        document["ends"][item.path.removeprefix("ends.")] = item.new
    elif item.path in document and item.path not in ("waivers", "legs"):
        document[item.path] = item.new


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
