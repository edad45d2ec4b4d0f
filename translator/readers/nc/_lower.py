"""A tree to a part: the last step, under settled conventions."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.conventions import Conventions, with_setting
from translator.findings import Finding
from translator.geometry.mass import mass_per_metre_kg
from translator.model import Angle, Placed
from translator.readers._reader import Reading
from translator.readers.nc._book import Book, Fate, Place, findings_of
from translator.readers.nc._build import build
from translator.readers.nc._figures import Scanner
from translator.readers.nc._header import Header, read_header
from translator.readers.nc._items import Layout
from translator.readers.nc._open import refuse_open
from translator.readers.nc._raw import keep_raw
from translator.readers.nc._read import is_ours, read_records, scanner_of
from translator.readers.nc._readings import Readings, read_all
from translator.readers.nc._records import Records
from translator.readers.nc._shape import shape_of
from translator.readers.nc._slots import SlotError, ends_of
from translator.readers.nc._slots import shape_of as slot_shape
from translator.readers.nc._tree import Sheet, Tree
from translator.readers.nc._views import frame_of

_STRICT: Final = "yes"
_PROFILES: Final = MappingProxyType(
    {
        "I": "I and H sections",
        "U": "channels",
        "RU": "round bars",
        "RO": "round tubes",
        "M": "hollow sections",
        "C": "C sections",
        "T": "tees",
        "SO": "special sections",
    }
)


class Lowered(Struct, frozen=True, kw_only=True):
    """A reading, and what became of each line that is not blank."""

    reading: Reading
    fates: Mapping[int, Fate]


def lower(tree: Tree, conventions: Conventions) -> Reading:
    """Turn a tree into placed parts and findings."""
    return lower_with_account(tree, conventions).reading


def account(tree: Tree, conventions: Conventions) -> Mapping[int, Fate]:
    """Tell of each line that is not blank whether it was translated, carried or reported."""
    return lower_with_account(tree, conventions).fates


def lower_with_account(tree: Tree, conventions: Conventions) -> Lowered:
    """Turn a tree into placed parts and findings, and account for every line."""
    lines = {line.number: line for line in tree.lines}
    strict = conventions.strict == _STRICT
    if not tree.sheets:
        place = Place(path=tree.path, lines=lines)
        fates: dict[int, Fate] = {n: "reported" for n, line in lines.items() if line.text.strip()}
        found = findings_of(tree.remarks, place, strict=strict)
        return Lowered(reading=Reading(findings=found), fates=fates)
    parts: list[Placed] = []
    findings: list[Finding] = []
    others: list[str] = []
    fates = {}
    first = 1
    for sheet in tree.sheets:
        remarks = [r for r in tree.remarks if first <= r.line <= sheet.end]
        first = sheet.end + 1
        one = _Sheet(tree=tree, sheet=sheet, conventions=conventions, book=Book(remarks))
        placed, mark, other = one.run()
        if other and len(tree.sheets) == 1:
            return Lowered(reading=Reading(not_ours=other), fates=one.reported())
        place = Place(path=tree.path, lines=lines, mark=mark)
        findings += findings_of(one.book.remarks, place, strict=strict)
        fates |= one.book.fates
        if placed is not None:
            parts.append(placed)
        if other:
            others.append(other)
    not_ours = others[0] if len(others) == len(tree.sheets) else ""
    if not_ours:
        findings = []
    reading = Reading(parts=tuple(parts), findings=tuple(findings), not_ours=not_ours)
    return Lowered(reading=reading, fates=fates)


class _Sheet(Struct, frozen=True, kw_only=True):
    """Lowers one sheet."""

    tree: Tree
    sheet: Sheet
    conventions: Conventions
    book: Book

    def run(self) -> tuple[Placed | None, str, str]:
        """Return the part, its mark for findings, and why the sheet is not for this tool."""
        book, sheet = self.book, self.sheet
        for line in sheet.frame:
            book.translate(line.number)
        scanner = scanner_of(sheet, self.conventions, book)
        header = read_header(sheet, self.tree.path, self.conventions, scanner)
        if not is_ours(sheet, header):
            words = _PROFILES[sheet.profile]
            other = f"profile code {sheet.profile} ({words})"
            if len(self.tree.sheets) > 1:
                text = f"{other} is not for this tool; the part was passed over"
                book.note("nc-not-ours", text, sheet.start)
                self._account(placed=None)
            return None, header.mark if header is not None else "", other
        placed = self._part(header, scanner) if header is not None else None
        placed = None if self._is_fatal() else placed
        self._account(placed)
        return placed, header.mark if header is not None else "", ""

    def _is_fatal(self) -> bool:
        return any(remark.is_fatal for remark in self.book.remarks)

    def _part(self, header: Header, scanner: Scanner) -> Placed | None:
        records = read_records(self.sheet, header, self.conventions, scanner)
        strict = self.conventions.strict == _STRICT
        raw = keep_raw(self.sheet, self.book, strict=strict)
        if records is None:
            return None
        _say_mass(records, self.book)
        _check_hand(records, self.book)
        readings = read_all(records, self.conventions)
        layout = readings.chosen
        self.book.remarks.extend(layout.remarks)
        for line in layout.kept:
            self.book.fates[line] = "carried"
            self.book.kept.add(line)
        if readings.deciding:
            if not self._is_fatal():
                refuse_open(records, readings, self.book, self.sheet.start)
            return None
        _say_assumed(records, readings, self.conventions, self.book)
        if self._is_fatal():
            return None
        return self._whole(records, layout, raw)

    def _whole(self, records: Records, layout: Layout, raw: set[int]) -> Placed | None:
        shape = shape_of(records, layout, self.book)
        if shape is None:
            return None
        lines = {line.number: line for line in self.tree.lines}
        kept = sorted(raw | self.book.kept)
        place = Place(path=self.tree.path, lines=lines, mark=records.header.mark)
        return build(
            records,
            layout,
            shape,
            carried=[lines[number].text for number in kept],
            place=place,
            sheet=self.sheet,
            book=self.book,
        )

    def _account(self, placed: Placed | None) -> None:
        """Make sure that every line is accounted for; a line that is not is told."""
        book = self.book
        said = book.said_of()
        for line in self._lines():
            if placed is None:
                book.fates[line] = "reported"
            elif line not in book.fates:
                if line not in said:
                    text = "lines were not understood and are not in the part"
                    book.fail("nc-line-unread", text, line)
                book.report(line)

    def _lines(self) -> list[int]:
        return [
            line.number
            for line in self.tree.lines
            if line.text.strip() and self.sheet.start <= line.number <= self.sheet.end
        ]

    def reported(self) -> dict[int, Fate]:
        """Account for a sheet that is not for this tool: the reading names it as a whole."""
        return dict.fromkeys(
            (line.number for line in self.tree.lines if line.text.strip()), "reported"
        )


def _say_mass(records: Records, book: Book) -> None:
    if records.header.mass == 0.0:
        mass = mass_per_metre_kg(records.section)
        text = f"the weight per metre is 0; {mass:.2f} kg/m was computed from the section"
        book.note("nc-weight-missing", text, records.header.lines[15])


def _check_hand(records: Records, book: Book) -> None:
    """Refuse an angle worked in view o or h without the outer face that fixes its heel.

    v and o, or h and u, may mean a heel at the upper front or the lower back edge: the
    opposite hand of the standard's position.
    """
    if not isinstance(records.section, Angle):
        return
    works = [(h.view, h.line) for h in records.holes]
    works += [(c.view, c.line) for c in (*records.outers, *records.inners)]
    views = {view for view, _ in works}
    for inner, outer, leg in (("o", "u", "b"), ("h", "v", "a")):
        if inner in views and outer not in views:
            line = min(line for view, line in works if view == inner)
            text = (
                f"the angle is worked in view {inner} and not in view {outer}: {inner} may be the"
                f" inner face of leg {leg}, or the heel may lie at another edge, which is the"
                f" opposite hand; have the file written with views v and u"
            )
            book.refuse("nc-view-hand", text, line)


def _say_assumed(
    records: Records, readings: Readings, conventions: Conventions, book: Book
) -> None:
    """Name the defaults used for slots, and print both ends of each."""
    slots = [hole for hole in records.holes if hole.is_slot]
    if not slots or not readings.assumed:
        return
    for name, value in readings.assumed:
        conventions = with_setting(conventions, name, value)
    ends = []
    for hole in slots:
        frame = frame_of(hole.view, records.section, conventions)
        if frame is None:
            continue
        try:
            (ax, ay), (bx, by) = ends_of(slot_shape(hole, frame, conventions))
        except SlotError:
            continue
        ends.append((hole.line, f"end centres ({ax:.2f}, {ay:.2f}) and ({bx:.2f}, {by:.2f})"))
    values = " and ".join(f'{name} = "{value}"' for name, value in readings.assumed)
    first = f"; line {ends[0][0]} has its {ends[0][1]} from start and heel" if ends else ""
    text = f"slots were read with {values}, the standard's way from memory{first}"
    book.note("nc-slot-assumed", text, slots[0].line, related=tuple(ends))
