"""A part of part text: its statements in any order, put together once all are read."""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Any, Final

from msgspec import Struct
from msgspec.structs import replace
from pydantic import ValidationError

from translator.findings import Severity
from translator.lengths.parse import Unit
from translator.model import (
    AngleLegs,
    Flat,
    FlatLegs,
    Leg,
    LegName,
    Part,
    Placed,
    Section,
    Waiver,
)
from translator.readers.part_text._amounts import count, grid, size
from translator.readers.part_text._blocks import read_legs
from translator.readers.part_text._book import Book
from translator.readers.part_text._doubtful import doubts
from translator.readers.part_text._ends import read_ends
from translator.readers.part_text._frames import Spot
from translator.readers.part_text._layers import Layers, Said
from translator.readers.part_text._legs import LegRead
from translator.readers.part_text._scope import Scope
from translator.readers.part_text._sections import read_section
from translator.readers.part_text._sentences import sentences
from translator.readers.part_text._stated import read_stated
from translator.readers.part_text._waivers import read_waiver
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Extent, Node, Word

TEXTS: Final = ("order", "drawing", "revision", "grade", "phase", "lot", "finish")
"""What may be said of a file, for the parts that follow, or of a part."""

_ONCE: Final = frozenset({*TEXTS, "section", "length", "quantity"})
_REPEATED: Final[Mapping[str, str]] = MappingProxyType(
    {"remark": "remarks", "second_work": "second_work", "carried": "carried"}
)


class Setting(Struct, frozen=True, kw_only=True):
    """Something said of the file.

    Attributes:
        value: what was said; None if it could not be read.
        extent: where.
    """

    value: str | None
    extent: Extent


class Header(Struct, frozen=True, kw_only=True):
    """What the file says before a part.

    Attributes:
        units: its unit, also when that was misspelt and so is no more than a guess.
        settings: its unit and texts by name.
    """

    units: Unit | None
    settings: Mapping[str, Setting]


def read_part(
    node: Node, layers: Layers, header: Header, book: Book, *, has_faults: bool
) -> Placed | None:
    """Read one part.

    Args:
        node: its node.
        layers: its statements, the families' it calls included.
        header: what the file says before it.
        book: takes the findings.
        has_faults: its spelling has faults, told already.

    Returns:
        None when anything in the part is an error.
    """
    return _PartReading(node, layers, header, book).run(has_faults=has_faults)


class _PartReading:
    """One run over one part."""

    def __init__(self, node: Node, layers: Layers, header: Header, book: Book) -> None:
        self.node = node
        self.layers = layers
        self.header = header
        self.book = book
        self.head = _head(node)
        self.fields: dict[str, Any] = {"units": header.units or "mm"}
        own = layers.layers[-1].frame
        self.places: dict[str, Spot] = {"": own.spot(self.head)}
        self.single = layers.once(_ONCE, book)
        self.broken = layers.broken()
        self.scope = Scope(book=book, frame=own)

    def run(self, *, has_faults: bool) -> Placed | None:
        self._name()
        self._unread()
        self._texts()
        section, length_mm = self._section(), self._length()
        is_flat = None if section is None else isinstance(section, Flat)
        self.scope = replace(self.scope, length_mm=length_mm, is_flat=is_flat)
        self._quantity()
        self._stated()
        legs = self._legs()
        self._waivers(legs)
        if section is not None:
            self._shape(section, legs)
        if has_faults or self.book.errors or section is None or length_mm is None:
            return None
        self.fields |= {"section": section, "length_mm": grid(length_mm)}
        return self._part()

    def _part(self) -> Placed | None:
        try:
            part = Part(**self.fields)
        except ValidationError as error:
            for loc, sentence in sentences(error):
                place = self.places.get(str(loc[0]) if loc else "", self.places[""])
                self.book.say_at("value-out-of-range", sentence, place)
            return None
        for doubt in doubts(part, self.header.units):
            self.book.element = doubt.element
            place = self.places.get(doubt.element, self.places[""])
            self.book.say_at("unit-doubtful", doubt.message, place, Severity.WARNING)
            self.book.element = ""
        spans = {element: spot.span for element, spot in self.places.items()}
        lines = {element: spot.related for element, spot in self.places.items() if spot.related}
        return Placed(part=part, places=spans, beyond=lines)

    def _name(self) -> None:
        mark, title = self.node.node("mark"), self.node.node("title")
        if mark is not None:
            self.fields["mark"] = _text(mark)
            self.places["mark"] = self.scope.spot(mark.extent)
        if title is not None:
            self.fields["title"] = _text(title)
            self.places["title"] = self.scope.spot(title.extent)

    def _unread(self) -> None:
        """Note the first setting of the file that this part needs and that could not be read."""
        for name, setting in self.header.settings.items():
            if setting.value is None and name not in self.single:
                self.book.say(
                    "setting-unread",
                    f"This part takes its {name} from line {setting.extent.line}, which could not"
                    " be read.",
                    self.head,
                )
                if name == "units":
                    self.book.know("units-missing")
                return

    def _texts(self) -> None:
        for name in TEXTS:
            said, setting = self.single.get(name), self.header.settings.get(name)
            if said is not None:
                self.fields[name] = _text(said.node)
                self.places[name] = _spot(said)
            elif setting is not None and setting.value is not None:
                self.fields[name] = setting.value
                self.places[name] = self.scope.spot(setting.extent)
        for name, field in _REPEATED.items():
            every = list(self.layers.every(name))
            self.fields[field] = tuple(_text(each.node) for each in every)
            self.places |= {f"{field}.{n}": _spot(each) for n, each in enumerate(every)}

    def _section(self) -> Section | None:
        said = self.single.get("section")
        if said is None:
            self._missing("section", "section", "SECTION", "section L4x3-1/2x3/8")
            return None
        self.places["section"] = _spot(said)
        self.book.element = "section"
        with self.scope.under(said.frame) as scope:
            section = read_section(said.node, scope)
        self.book.element = ""
        return section

    def _length(self) -> Fraction | None:
        said = self.single.get("length")
        value = None if said is None else said.node.value()
        if said is None or value is None:
            self._missing("length", "length", "LENGTH", "length 11-1/2")
            return None
        self.places["length"] = _spot(said)
        with self.scope.under(said.frame) as scope:
            return scope.read(lambda child, frame: size(child, frame, "length"), value)

    def _missing(self, name: str, element: str, word: str, example: str) -> None:
        if word in self.broken:
            return
        self.book.element = element
        self.book.say(f"{name}-missing", f"This part has no {name}: write `{example}`.", self.head)
        self.book.element = ""

    def _quantity(self) -> None:
        said = self.single.get("quantity")
        value = None if said is None else said.node.value()
        if said is None or value is None:
            return
        self.places["quantity"] = _spot(said)
        with self.scope.under(said.frame) as scope:
            found = scope.read(lambda child, frame: count(child, frame, "pieces"), value)
        if found is not None:
            self.fields["quantity"] = found

    def _stated(self) -> None:
        said = self.layers.last("stated")
        if not said:
            return
        with self.scope.under(said[0].frame) as scope:
            stated, places = read_stated([each.node for each in said], scope)
        self.fields["stated"] = stated
        self.places |= places

    def _legs(self) -> dict[LegName, LegRead]:
        found, places = read_legs(self.layers, self.scope)
        self.places |= places
        return found

    def _waivers(self, legs: Mapping[LegName, LegRead]) -> None:
        waivers: list[Waiver] = []
        for said in self.layers.every("waive"):
            with self.scope.under(said.frame) as scope:
                waiver = read_waiver(said.node, legs, scope)
            if waiver is not None:
                self.places[f"waivers.{len(waivers)}"] = _spot(said)
                waivers.append(waiver)
        self.fields["waivers"] = tuple(waivers)

    def _shape(self, section: Section, legs: Mapping[LegName, LegRead]) -> None:
        is_flat = isinstance(section, Flat)
        made = {name: read.leg for name, read in legs.items()}
        ends, places = read_ends(self.layers.every("mitre"), self.scope, is_flat=is_flat)
        self.places |= places
        self.fields["ends"] = ends
        self.fields["legs"] = (
            FlatLegs(face=made.get("face", Leg()))
            if is_flat
            else AngleLegs(a=made.get("a", Leg()), b=made.get("b", Leg()))
        )


def _head(node: Node) -> Extent:
    """Return the place of a part's first line, up to its brace."""
    last = node.children[0]
    for child in node.children:
        if isinstance(child, Word) and child.type == "LBRACE":
            break
        last = child
    return Extent(*node.extent[:2], *last.extent[2:])


def _text(statement: Node) -> str:
    return unquoted(statement.last_word.text)


def _spot(said: Said) -> Spot:
    return said.frame.spot(said.node.extent)
