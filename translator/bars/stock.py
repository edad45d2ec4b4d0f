"""The stock list: bars and remnants on hand, read from a table and written as one again."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Final

from msgspec import Struct

from translator.bars.plan_model import StockLine
from translator.documents.csv_numbers import decimal_sign, number, whole_number
from translator.documents.csv_table import Row, Table, read_table
from translator.documents.csv_text import csv_bytes
from translator.findings import Finding, Severity
from translator.lengths.characters import shown
from translator.lengths.grid import on_grid
from translator.lengths.parse import INCH, LengthError, parse_length, read_length
from translator.model import Angle, Flat
from translator.source import Source
from translator.tables.designations import designation_of, parse_section
from translator.tables.grades import read_grade

COLUMNS: Final[dict[str, tuple[str, ...]]] = {
    "section": ("section", "profile", "size", "designation"),
    "grade": ("grade", "material", "steel", "quality"),
    "length": ("length", "bar length"),
    "length_mm": ("length_mm", "length (mm)", "length mm"),
    "length_in": ("length_in", "length (in)", "length in"),
    "count": ("count", "quantity", "qty", "bars", "pieces"),
    "id": ("id", "stock id", "line"),
    "remnant": ("remnant", "remnant id", "drop", "offcut", "remnant (drop, offcut) id"),
    "heat": ("heat", "heat number", "heat no", "cast"),
    "certificate": ("certificate", "cert", "mill certificate", "test certificate"),
    "location": ("location", "place", "rack", "bin"),
    "price": ("price", "price per bar", "cost"),
}
"""Field -> names that its column may have."""

HEADER: Final = (
    *("id", "section", "grade", "length_mm", "count", "remnant"),
    *("heat", "certificate", "location", "price"),
)
"""Columns of a stock list as this tool writes it."""

MOST_BARS: Final = 1_000_000
"""More bars in one line of stock are a slip of the pen."""

LONGEST_MM: Final = 100_000
"""No mill rolls a longer bar."""

STANDARD: Final = "standard"
"""How the id of a length begins that can be bought and is in no stock list."""

ANY_COUNT: Final = frozenset({"", "any", "buy"})
"""What a count says of a length that is bought as wanted."""


class StockList(Struct, frozen=True, kw_only=True):
    """A stock list as it was read: its lines, and what is wrong with it."""

    lines: tuple[StockLine, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def is_sound(self) -> bool:
        """Whether every line could be read."""
        return not any(f.severity is Severity.ERROR for f in self.findings)


@lru_cache(maxsize=1024)
def section_key(section: Angle | Flat) -> str:
    """Return what sections of one steel have in common: the longer leg first, no radii."""
    if isinstance(section, Angle) and section.leg_b_mm > section.leg_a_mm:
        sizes = {"leg_a_mm": section.leg_b_mm, "leg_b_mm": section.leg_a_mm}
        return designation_of(section.model_copy(update=sizes))
    return designation_of(section)


@lru_cache(maxsize=1024)
def grade_key(grade: str | None) -> str:
    """Return the name that a grade goes by, however it is spelt; "" where none is stated."""
    if grade is None or not grade.strip():
        return ""
    read = read_grade(grade).grade
    return read.name if read is not None else " ".join(grade.upper().split())


def read_stock(source: Source) -> StockList:
    """Read a stock list; every fault is a finding at its cell.

    A line with a remnant's id is one remnant. Any other line is so many bars that are alike; a
    line without a count is a length that is bought as wanted. A length says its unit, in the
    cell (``20'``, ``6000mm``) or by the column's name (``length_mm``, ``length_in``).
    """
    table = read_table(source, COLUMNS, required=("section",))
    findings = list(table.findings)
    lines: list[StockLine] = []
    sign = _sign(table)
    for place, row in enumerate(table.rows, start=1):
        line = _line(row, f"S{place}", sign)
        if isinstance(line, Finding):
            findings.append(line)
        else:
            lines.append(line)
    findings += _repeated(table, lines)
    return StockList(lines=tuple(lines), findings=tuple(findings))


def stock_csv(lines: Iterable[StockLine]) -> bytes:
    """Write a stock list that can be read again; a remnant has its id in the column for it."""
    rows = (
        (
            None if line.is_remnant else line.id,
            line.section,
            line.grade,
            line.length_mm,
            line.count,
            line.id if line.is_remnant else None,
            line.heat,
            line.certificate,
            line.location,
            line.price,
        )
        for line in lines
    )
    return csv_bytes(HEADER, rows)


def standard_lines(
    lengths_mm: Sequence[float], sections: Iterable[tuple[str, str]]
) -> Iterator[StockLine]:
    """Yield lengths that may be bought in each section and grade."""
    for section, grade in sections:
        for length in lengths_mm:
            name = f"{STANDARD} {length:g} mm {section} {grade}".rstrip()
            yield StockLine(id=name, section=section, grade=grade or None, length_mm=length)


class _WrongError(Exception):
    """A cell is no good: the field, the rule and a sentence."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


def _line(row: Row, own_id: str, sign: str) -> StockLine | Finding:
    try:
        remnant = row.text("remnant")
        return StockLine(
            id=remnant or row.text("id") or own_id,
            section=_section(row),
            grade=row.text("grade") or None,
            length_mm=_length(row, sign),
            count=_count(row, sign, is_remnant=bool(remnant)),
            is_remnant=bool(remnant),
            heat=row.text("heat") or None,
            certificate=row.text("certificate") or None,
            location=row.text("location") or None,
            price=_price(row, sign),
        )
    except _WrongError as wrong:
        return _finding(row, wrong.field, str(wrong))
    except ValueError as error:
        return _finding(row, "section", f"this line can't be read: {str(error)[:200]}")


def _finding(row: Row, field: str, message: str) -> Finding:
    return Finding(
        rule="stock-line-wrong",
        severity=Severity.ERROR,
        message=message,
        span=row.span(field),
    )


def _section(row: Row) -> str:
    text = row.text("section")
    if not text:
        raise _WrongError("section", "the section is missing: a bar of what?")
    reading = parse_section(text, "inch" if _is_inch(row) else "mm")
    if reading.section is None:
        raise _WrongError("section", (reading.fault or f"{shown(text)} is no section").rstrip("."))
    return section_key(reading.section)


def _is_inch(row: Row) -> bool:
    """Tell whether bare sizes are inches: by the length's own unit, else by a fraction."""
    if row.text("length_in"):
        return True
    if row.text("length_mm"):
        return "/" in row.text("section")
    text = row.text("length")
    try:
        return read_length(text, "mm").unit == "inch"
    except LengthError:
        return False


def _length(row: Row, sign: str) -> float:
    said = [(f, row.text(f)) for f in ("length", "length_mm", "length_in") if row.text(f)]
    if len(said) != 1:
        words = "the length is missing" if not said else "the length stands in two columns"
        raise _WrongError(said[1][0] if said else "length", words)
    field, text = said[0]
    length = _spelt(field, text) if field == "length" else _counted(field, text, sign)
    if not 0 < length <= LONGEST_MM:
        raise _WrongError(
            field, f"the length is {shown(text)}, it must be more than 0 and at most 100 m"
        )
    return on_grid(length)


def _spelt(field: str, text: str) -> Fraction:
    try:
        length = read_length(text, "mm")
    except LengthError as error:
        if "/" not in text:
            raise _WrongError(field, str(error).rstrip(".")) from None
        return _spelt_inches(field, text)
    if length.bare is not None:
        raise _WrongError(
            field,
            f"the length {shown(text)} has no unit: write it like 20' or 6000mm, or call the"
            " column length_mm or length_in",
        )
    return length.mm


def _spelt_inches(field: str, text: str) -> Fraction:
    try:
        return parse_length(text, "inch")
    except LengthError as error:
        raise _WrongError(field, str(error).rstrip(".")) from None


def _counted(field: str, text: str, sign: str) -> Fraction:
    value = number(text, sign)
    if value is None and field == "length_in":
        return _spelt_inches(field, text)
    if value is None:
        raise _WrongError(field, f"the length {shown(text)} is no plain number of millimetres")
    return value * INCH if field == "length_in" else value


def _count(row: Row, sign: str, *, is_remnant: bool) -> int | None:
    text = row.text("count")
    if text.lower() in ANY_COUNT:
        return 1 if is_remnant else None
    count = whole_number(text, sign)
    if count is None or not 0 <= count <= MOST_BARS:
        raise _WrongError(
            "count", f"the count is {shown(text)}, it must be a whole number, or empty for any"
        )
    if is_remnant and count > 1:
        raise _WrongError("count", f"remnant {shown(row.text('remnant'))} stands {count} times")
    return count


def _price(row: Row, sign: str) -> float | None:
    text = row.text("price")
    if not text:
        return None
    value = number(text, sign or ".")
    if value is None or not 0 <= value <= 10**9:
        raise _WrongError("price", f"the price {shown(text)} is no plain number")
    return float(value)


def _sign(table: Table) -> str:
    delimiter = table.layout.delimiter if table.layout is not None else ","
    fields = ("length_mm", "length_in", "count", "price")
    cells = [row.text(field) for row in table.rows for field in fields]
    return decimal_sign([cell for cell in cells if cell], delimiter) or "."


def _repeated(table: Table, lines: Sequence[StockLine]) -> Iterator[Finding]:
    """Yield remnants and lines of one id: a bar must be told from every other."""
    if len(lines) != len(table.rows):
        return
    seen: set[str] = set()
    for row, line in zip(table.rows, lines, strict=True):
        if line.id in seen:
            field = "remnant" if line.is_remnant else "id"
            yield _finding(row, field, f"the id {shown(line.id)} stands twice in the stock list")
        seen.add(line.id)
