"""What an overlay of both states of a part shows: which features changed, and what to point at."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from msgspec import Struct

from translator.changes.model import Change, Item
from translator.changes.strokes import anchor
from translator.geometry.clearance import extent
from translator.geometry.contours import Contour
from translator.geometry.ends import end_x
from translator.geometry.frames import outside_sign
from translator.geometry.outline import leg_outline
from translator.model import (
    CentreMark,
    Feature,
    LegName,
    Part,
    leg_names,
    leg_of,
    leg_width,
)
from translator.model.trims import End
from translator.pages._layout import Layout, lay_out

PAD: Final = 10.0
_MOST_BALLOONS: Final = 40
"""Balloons of one leg; the rest of what changed is drawn all the same."""

_MOST_MARKS: Final = 2_000


class Sheet(Struct, frozen=True, kw_only=True):
    """Both states of a part, laid out for one scale.

    Attributes:
        old: the old part, turned as the new one lies.
        new: the new part.
        changes: number in the list -> a change.
        layout: of both.
        contours: leg -> outline of the old part, of the new one; empty where unknown.
    """

    old: Part
    new: Part
    changes: Mapping[int, Change]
    layout: Layout
    contours: Mapping[LegName, tuple[Contour, Contour]]


def sheet(old: Part, new: Part, changes: Mapping[int, Change]) -> Sheet:
    """Lay out both states of a part; both are of one kind of section."""
    contours = {
        leg: (leg_outline(old, leg).contour, leg_outline(new, leg).contour)
        for leg in leg_names(new)
    }
    return Sheet(
        old=old,
        new=new,
        changes=changes,
        layout=lay_out(_both(old, new, contours)),
        contours=contours,
    )


def _both(old: Part, new: Part, contours: Mapping[LegName, tuple[Contour, Contour]]) -> Part:
    """Return a part that takes all the room that both take: its corners are marks of their own."""
    legs: dict[str, object] = {}
    for leg in leg_names(new):
        corners = [v for contour in contours[leg] for v in contour][:_MOST_MARKS]
        marks = [
            CentreMark.model_construct(id="mark", kind="centre_mark", x_mm=v.x_mm, y_mm=v.y_mm)
            for v in corners
        ]
        features = (*leg_of(old, leg).features, *leg_of(new, leg).features, *marks)
        legs[leg] = leg_of(new, leg).model_copy(update={"features": features, "trims": ()})
    wide = {
        name: max(value, getattr(old.section, name))
        for name, value in dict(new.section).items()
        if name in ("leg_a_mm", "leg_b_mm", "width_mm")
    }
    return new.model_copy(
        update={
            "length_mm": max(old.length_mm, new.length_mm),
            "section": new.section.model_copy(update=wide),
            "legs": new.legs.model_copy(update=legs),
            "ends": type(new.ends)(),
        }
    )


class Mark(Struct, frozen=True, kw_only=True):
    """A place that a balloon points at."""

    number: int
    x: float
    y: float


class BothLegs(Struct, frozen=True, kw_only=True):
    """What is drawn of one leg."""

    sheet: Sheet
    name: LegName
    top: float
    bottom: float
    same: tuple[Feature, ...]
    pairs: tuple[tuple[Feature, Feature], ...]
    gone: tuple[Feature, ...]
    come: tuple[Feature, ...]
    marks: tuple[Mark, ...]

    @property
    def scale(self) -> float:
        """Units of the picture for one millimetre."""
        return self.sheet.layout.scale

    @property
    def height(self) -> float:
        """Height of a pane."""
        return self.bottom - self.top + 2.0 * PAD


def both_legs(both: Sheet, leg: LegName) -> BothLegs:
    """Sort the features of both states of a leg by what became of them."""
    old = {f.id: f for f in leg_of(both.old, leg).features}
    new = {f.id: f for f in leg_of(both.new, leg).features}
    pairs, gone, come, marks = [], [], [], []
    for number, change in both.changes.items():
        for item in change.items:
            if item.path != f"legs.{leg}.features" or change.weight == "rounding":
                continue
            one, two = _named(old, item.old), _named(new, item.new)
            if one is not None and two is not None:
                pairs.append((one, two))
            gone += [one] if one is not None and two is None else []
            come += [two] if two is not None and one is None else []
            pointed = two or one
            if pointed is not None:
                marks.append(Mark(number=number, **_middle(pointed)))
        marks += _of_shape(both, leg, number, change)
    told = {f.id for f in come} | {f.id for _, f in pairs}
    low, high = _across(both, leg)
    down = sorted(-y * outside_sign(leg) * both.layout.scale for y in (low, high))
    return BothLegs(
        sheet=both,
        name=leg,
        top=down[0],
        bottom=down[1],
        same=tuple(f for f in new.values() if f.id not in told),
        pairs=tuple(pairs),
        gone=tuple(gone),
        come=tuple(come),
        marks=tuple(marks[:_MOST_BALLOONS]),
    )


def _named(features: Mapping[str, Feature], value: Any) -> Feature | None:  # noqa: ANN401 - JSON
    return None if value is None else features.get(value["id"])


def _middle(feature: Feature) -> dict[str, float]:
    x, y = anchor(feature)
    return {"x": x, "y": y}


def _across(both: Sheet, leg: LegName) -> tuple[float, float]:
    """Return the least and the greatest y that is drawn, features off the leg within reason."""
    width = max(leg_width(p.section, leg) for p in (both.old, both.new))
    boxes = [extent(f) for p in (both.old, both.new) for f in leg_of(p, leg).features]
    low = max(min([0.0, *(box.low for box in boxes)]), -0.5 * width)
    return low, min(max([width, *(box.high for box in boxes)]), 1.5 * width)


def _of_shape(both: Sheet, leg: LegName, number: int, change: Change) -> Iterator[Mark]:
    """Yield where a change of length, ends or trims is pointed at."""
    length, width = both.new.length_mm, leg_width(both.new.section, leg)
    if change.kind == "length" or (change.kind == "end" and _is_cut_otherwise(change, leg)):
        end: End = "start" if change.items[0].path == "ends.start" else "far"
        y = (0.45 if change.kind == "length" else 0.65) * width
        yield Mark(number=number, x=end_x(both.new, end, leg, y), y=y)
    elif change.kind == "trim" and change.leg == leg:
        yield _at_trim(number, change.items[0], length, width)


def _is_cut_otherwise(change: Change, leg: LegName) -> bool:
    """Tell whether the trace of an end cut on a leg is another."""
    name = "face_deg" if leg == "face" else f"leg_{leg}_deg"
    return any(item.old[name] != item.new[name] for item in change.items)


def _at_trim(number: int, item: Item, length: float, width: float) -> Mark:
    trim = item.new or item.old
    along = trim.get("along_mm", trim.get("radius_mm", 0.0)) / 2.0
    across = trim.get("across_mm", trim.get("radius_mm", 0.0)) / 2.0
    y = width - across if trim["side"] in ("toe", "upper") else across
    if trim["kind"] == "notch":
        return Mark(number=number, x=(trim["x_from_mm"] + trim["x_to_mm"]) / 2.0, y=y)
    return Mark(number=number, x=along if trim["end"] == "start" else length - along, y=y)
