"""A layout and a shape to a placed part."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any, Final, Literal

from translator.model import (
    AngleEnds,
    AngleLegs,
    CentreMark,
    Feature,
    FlatLegs,
    Hole,
    Leg,
    LegName,
    Opening,
    Part,
    Placed,
    Scribe,
    Slot,
    Stamp,
    Stated,
    feature_path,
    trim_path,
)
from translator.readers.nc._book import Book, Place
from translator.readers.nc._items import Item, Layout
from translator.readers.nc._records import Records
from translator.readers.nc._shape import Shape, contour_of
from translator.readers.nc._tree import Sheet
from translator.source import Span

_LONGEST_TEXT: Final = 4000
_FIELDS: Final = (
    ("order", 1),
    ("drawing", 2),
    ("phase", 3),
    ("mark", 4),
    ("grade", 5),
    ("quantity", 6),
    ("section", 7),
    ("length", 9),
    ("stated.saw_length_mm", 9),
    ("stated.mass_per_metre_kg", 15),
    ("stated.paint_area_per_metre_m2", 16),
)
"""Element paths of the part and the header lines they come from."""

_THREADS: Final[Mapping[str, Literal["right", "left"]]] = MappingProxyType(
    {"right": "right", "left": "left"}
)


def build(  # noqa: PLR0913 - the ingredients of a part
    records: Records,
    layout: Layout,
    shape: Shape,
    *,
    carried: Sequence[str],
    place: Place,
    sheet: Sheet,
    book: Book,
) -> Placed | None:
    """Make the part; None with an error in the book when a figure is out of range."""
    is_angle = isinstance(shape.ends, AngleEnds)
    legs: tuple[LegName, ...] = ("a", "b") if is_angle else ("face",)
    items = [_marked(item, records.header.mark, book) for item in layout.items]
    places = _header_places(records, place, sheet)
    built: dict[str, Leg] = {}
    for name in legs:
        features = _features(name, items, place, places, book)
        trims = shape.trims.get(name, ())
        for index in range(len(trims)):
            line = layout.outlines[name].line if name in layout.outlines else sheet.start
            places[trim_path(name, index)] = place.span(line)
        built[name] = Leg(features=features, trims=trims)
    if any(remark.is_fatal for remark in book.remarks):
        return None
    header = records.header
    try:
        part = Part(
            mark=header.mark,
            quantity=header.quantity,
            grade=header.grade,
            length_mm=records.length,
            section=records.section,
            legs=AngleLegs(**built) if is_angle else FlatLegs(**built),
            ends=shape.ends,
            title=header.title,
            order=header.order,
            drawing=header.drawing,
            phase=header.phase,
            remarks=header.remarks,
            units="inch" if records.is_inch else "mm",
            stated=_stated(records),
            carried=tuple(_texts(carried)),
        )
    except ValueError as error:
        text = f"the part cannot be made: {_reason(error)}"
        book.refuse("nc-part", text, sheet.start)
        return None
    return Placed(part=part, places=places)


def _reason(error: ValueError) -> str:
    _, _, reason = str(error).partition("Value error, ")
    return reason.partition(" [type=")[0] or "a figure is out of range"


def _texts(lines: Iterable[str]) -> Iterable[str]:
    """Yield lines as the model can hold them: no tabs, no more than 4000 characters each."""
    for line in lines:
        text = line.replace("\t", " ").rstrip()
        yield from (text[i : i + _LONGEST_TEXT] for i in range(0, max(len(text), 1), _LONGEST_TEXT))


def _stated(records: Records) -> Stated | None:
    header = records.header
    stated = Stated(
        mass_per_metre_kg=header.mass or None,
        paint_area_per_metre_m2=header.paint or None,
        saw_length_mm=header.saw,
    )
    return stated if stated != Stated() else None


def _header_places(records: Records, place: Place, sheet: Sheet) -> dict[str, Span]:
    lines = records.header.lines
    places = {"": place.span(sheet.frame[0].number if sheet.frame else sheet.start)}
    for path, field in _FIELDS:
        if field in lines:
            places[path] = place.span(lines[field])
    ends = records.outers[0].line if records.outers else lines[17]
    places["ends"] = place.span(ends)
    return places


def _marked(item: Item, mark: str, book: Book) -> Item:
    """Let a stamp that spells the mark follow it; say when it spells something else."""
    if item.kind != "stamp":
        return item
    if item.words[0] == mark:
        return item._replace(words=("", item.words[1]))
    text = f"the stamp says {item.words[0]!r}, the mark is {mark!r}"
    book.note("nc-stamp-text", text, item.line)
    return item


def _features(
    leg: LegName, items: Sequence[Item], place: Place, places: dict[str, Span], book: Book
) -> tuple[Feature, ...]:
    found: list[Feature] = []
    for item in items:
        if item.leg != leg:
            continue
        name = f"{leg[0]}{len(found) + 1}"
        try:
            found.append(_feature(item, name))
        except ValueError as error:
            text = f"the {item.kind} cannot be made: {_reason(error)}"
            book.refuse("nc-feature", text, item.line)
            continue
        places[feature_path(leg, name)] = place.span(item.line)
    return tuple(found)


def _feature(item: Item, name: str) -> Feature:
    """Turn an item into a feature of the model.

    Raises:
        ValueError: for a figure that the model does not take.
    """
    values: dict[str, Any] = {"id": name}
    if item.ring:
        ring = contour_of(item.ring)
        if item.kind == "opening":
            return Opening(id=name, contour=ring)
        return Scribe(
            id=name,
            method="powder" if item.words[0] == "powder" else "punch",
            closed=item.words[1] != "",
            line=ring,
        )
    values["x_mm"], second = item.numbers[:2]
    if item.kind == "stamp":
        return Stamp(
            **values,
            from_heel_mm=second,
            height_mm=item.numbers[2],
            angle_deg=item.numbers[3],
            text=item.words[0] or None,
            may_move=item.words[1] != "",
        )
    values["y_mm"] = second
    if item.kind == "mark":
        return CentreMark(**values)
    if item.kind == "slot":
        _, _, width, length, angle, depth = item.numbers
        return Slot(
            **values,
            width_mm=width,
            length_mm=length,
            angle_deg=angle,
            depth_mm=depth or None,
        )
    _, _, diameter, depth, sink = item.numbers
    return Hole(
        **values,
        diameter_mm=diameter,
        depth_mm=depth or None,
        thread=_THREADS.get(item.words[0]),
        countersink_diameter_mm=sink or None,
    )
