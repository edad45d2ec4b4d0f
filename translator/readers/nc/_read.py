"""A sheet to its records: header, section and rows, under the settings that numbers need."""

from collections.abc import Callable, Iterable
from typing import Final, TypeVar

from translator.conventions import Conventions
from translator.conventions.comment import stated_setting
from translator.model import Angle, Flat
from translator.readers.nc._book import Book
from translator.readers.nc._figures import Scanner, decimal_commas_proven
from translator.readers.nc._header import Header, comma_rule
from translator.readers.nc._holes import read_holes
from translator.readers.nc._inch import Nominal
from translator.readers.nc._outlines import read_contours
from translator.readers.nc._records import MOST_RECORDS, Records
from translator.readers.nc._section import kind_of, read_section
from translator.readers.nc._stamps import read_stamps
from translator.readers.nc._tree import ROW_CODES, Block, Sheet

Record = TypeVar("Record")

_READ: Final = "yes"
_LINE_LENGTH: Final = 9
_LINE_FLANGE_CUT: Final = 19


def scanner_of(sheet: Sheet, conventions: Conventions, book: Book) -> Scanner:
    """Return the number reader for a sheet."""
    proven = decimal_commas_proven(sheet)
    return Scanner(comma=comma_rule(conventions, proven=proven), book=book)


def is_ours(sheet: Sheet, header: Header | None) -> bool:
    """Tell whether a sheet describes an angle or a flat, or cannot be told."""
    return sheet.profile == "" or kind_of(sheet.profile, header, Book()) is not None


def read_records(
    sheet: Sheet, header: Header, conventions: Conventions, scanner: Scanner
) -> Records | None:
    """Read the section and all rows of a sheet.

    Returns:
        The records; None with an error in the book when there is no section. Rows that cannot
        be read are errors in the book, and fatal there.
    """
    book = scanner.book
    kind = kind_of(sheet.profile, header, book)
    if kind is None or _is_too_much(sheet, book):
        return None
    found = read_section(kind, header, book)
    if found is None:
        return None
    is_asked = conventions.nominal_inch == _READ or _states_nominal(sheet)
    nominal = Nominal(is_on=is_asked and found.is_inch)
    section = _nominal_section(found.section, nominal)
    length = nominal.position(header.length)
    _check_flat_cuts(header, section, book)
    rows = _Rows(sheet=sheet, scanner=scanner, nominal=nominal, is_flat=kind == "flat")
    records = Records(
        header=header,
        section=section,
        is_inch=found.is_inch,
        length=length,
        holes=rows.of(("BO",), read_holes),
        outers=rows.of(("AK",), read_contours),
        inners=rows.of(("IK",), read_contours),
        lines=rows.of(("PU", "KO"), read_contours),
        stamps=rows.of(("SI",), read_stamps),
    )
    if nominal.sentence():
        book.note("nc-nominal-inch", nominal.sentence(), header.lines[_LINE_LENGTH])
    return records


def _states_nominal(sheet: Sheet) -> bool:
    """Tell whether a sheet says of itself that its lengths are rounded fractions of an inch."""
    return any(stated_setting(line.text) == ("nominal_inch", _READ) for line in sheet.comments)


def _is_too_much(sheet: Sheet, book: Book) -> bool:
    rows = sum(len(block.rows) for block in sheet.blocks if block.code in ROW_CODES)
    if rows <= MOST_RECORDS:
        return False
    text = f"the part has {rows} rows of holes and points, more than the {MOST_RECORDS} allowed"
    book.refuse("nc-too-big", text, sheet.start)
    return True


def _nominal_section(section: Angle | Flat, nominal: Nominal) -> Angle | Flat:
    if not nominal.is_on:
        return section
    angle = ("leg_a_mm", "leg_b_mm", "thickness_mm")
    names = angle if isinstance(section, Angle) else ("width_mm", "thickness_mm")
    fresh = {name: nominal.size(getattr(section, name)) for name in names}
    return type(section)(**{**dict(section), **fresh})


def _check_flat_cuts(header: Header, section: Angle | Flat, book: Book) -> None:
    cuts = header.cuts
    if isinstance(section, Flat) and (cuts.flange_start or cuts.flange_end):
        text = (
            f"flange cuts of {cuts.flange_start:g} and {cuts.flange_end:g} degrees would bevel a"
            " flat through its thickness; that cannot be translated"
        )
        book.refuse("nc-cut-angle", text, header.lines[_LINE_FLANGE_CUT])


class _Rows:
    """Reads the rows of all blocks of some codes."""

    __slots__ = ("is_flat", "nominal", "scanner", "sheet")

    def __init__(self, *, sheet: Sheet, scanner: Scanner, nominal: Nominal, is_flat: bool) -> None:
        self.sheet, self.scanner = sheet, scanner
        self.nominal, self.is_flat = nominal, is_flat

    def of(
        self, codes: tuple[str, ...], read: Callable[..., Iterable[Record]]
    ) -> tuple[Record, ...]:
        return tuple(
            record
            for block in self._blocks(codes)
            for record in read(block, self.scanner, self.nominal, is_flat=self.is_flat)
        )

    def _blocks(self, codes: tuple[str, ...]) -> Iterable[Block]:
        for block in self.sheet.blocks:
            if block.code in codes:
                self.scanner.book.translate(block.at.number)
                yield block
