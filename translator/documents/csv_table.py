"""Tables of separated values (CSV) read strictly, with the place of every cell."""

import codecs
from collections.abc import Collection, Iterable, Iterator, Mapping
from itertools import chain, islice
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.documents.csv_faults import Faults, span_in
from translator.documents.csv_header import Asked, header_row, matched, repeated
from translator.documents.csv_scan import Record, cells_of, records
from translator.documents.csv_text import unguarded
from translator.findings import Finding, Severity, in_order
from translator.source import Source, Span, decode, lines_of

LARGEST_BYTES: Final = 4 * 1024 * 1024
"""Bytes of one table file."""

MOST_ROWS: Final = 50_000
"""Rows of one table behind its header, blank ones among them."""

HEADER_WITHIN: Final = 30
"""Rows among which the one that names the columns is looked for."""

DELIMITERS: Final = (",", ";", "\t")

_SAID: Final = "sep="
_LONGEST_SAID: Final = 8
_NO_COLUMNS: Final[Mapping[str, str]] = MappingProxyType({})


class Layout(Struct, frozen=True, kw_only=True):
    """How the rows of one table are laid out.

    Attributes:
        path: of the file, for places.
        delimiter: what stands between two cells.
        columns: field -> number of its column from 0; a field without a column is not there.
        fields: field -> which of a row's values is its own.
        headers: field -> name of its column as the table spells it.
    """

    path: str
    delimiter: str
    columns: Mapping[str, int]
    fields: Mapping[str, int]
    headers: Mapping[str, str]


class Row(Struct, frozen=True, kw_only=True):
    """One row of a table.

    Attributes:
        line: on which it begins, from 1.
        raw: its text as it stands in the file, without the line end.
        values: text of each field that has a column, without blanks around it and quotes.
        layout: which cell is which field.
    """

    line: int
    raw: str
    values: tuple[str, ...]
    layout: Layout

    def text(self, field: str) -> str:
        """Return the text of a field; "" where the table has no such column or cell.

        An apostrophe that only guards a text from being taken for a formula is taken off.
        """
        number = self.layout.fields.get(field)
        return "" if number is None else unguarded(self.values[number])

    def span(self, field: str) -> Span:
        """Return the place of a field's cell, quotes among it; of the row if it has none."""
        number = self.layout.columns.get(field)
        cells = () if number is None else cells_of(self.raw, self.layout.delimiter)
        if number is None or number >= len(cells):
            return self.place
        cell = cells[number]
        return span_in(self.layout.path, self.line, self.raw, cell.start, cell.end)

    @property
    def place(self) -> Span:
        """The place of the whole row."""
        return span_in(self.layout.path, self.line, self.raw, 0, len(self.raw))


class Table(Struct, frozen=True, kw_only=True):
    """A table as it was read.

    Attributes:
        path: of the file.
        rows: those that could be read, in the file's order; blank ones are left out.
        findings: all faults and notes; with an error among them rows may be missing.
        unused: names of the columns that no field took, as the table spells them.
        layout: which column is which field; None where no header row was found.
        encoding: "utf-8", "utf-16" or "windows-1252".
    """

    path: str
    rows: tuple[Row, ...] = ()
    findings: tuple[Finding, ...] = ()
    unused: tuple[str, ...] = ()
    layout: Layout | None = None
    encoding: str = "utf-8"

    @property
    def is_whole(self) -> bool:
        """Whether every row could be read."""
        return not any(f.severity is Severity.ERROR for f in self.findings)


def read_table(
    source: Source,
    wanted: Mapping[str, tuple[str, ...]],
    *,
    required: Collection[str] = (),
    columns: Mapping[str, str] = _NO_COLUMNS,
    setting: str = "",
) -> Table:
    """Read a table of separated values.

    Encodings are UTF-8, UTF-16 with its mark, else Windows-1252 with a note. Cells are
    parted by comma, semicolon or tab, whichever makes most columns known. Names of columns
    are compared without case, blanks and punctuation. No bytes raise.

    Args:
        source: the file.
        wanted: field -> names that its column may have, best first.
        required: fields without whose column the table is refused.
        columns: field -> name of its column as the settings give it, in place of ``wanted``.
        setting: where in the settings a person names columns ("[bill] columns"), for hints.

    Returns:
        The table; its findings name every fault, what was assumed and what was not used.
    """
    faults = Faults(source.path, setting)
    asked = Asked(wanted=wanted, required=tuple(required), columns=columns)
    text, encoding = _text(source, faults)
    layout, rows, unused = _read(text, asked, faults)
    return Table(
        path=source.path,
        rows=rows,
        findings=in_order(faults.all()),
        unused=unused,
        layout=layout,
        encoding=encoding,
    )


def _read(
    text: str, asked: Asked, faults: Faults
) -> tuple[Layout | None, tuple[Row, ...], tuple[str, ...]]:
    """Read a decoded table: its layout, its rows, and the columns that are not used."""
    if not text.strip():
        return None, (), ()
    delimiter, text, taken = _delimiter(text, asked)
    found = (r._replace(line=r.line + taken) for r in records(text, delimiter))
    first = list(islice(found, HEADER_WITHIN))
    number = header_row(first, asked)
    if number is None:
        _tell_no_header(first, asked, faults)
        return None, (), ()
    header = first[number]
    faults.before(first[:number])
    layout = _laid_out(header, delimiter, asked, faults)
    if layout is None:
        return None, (), ()
    used = set(layout.columns.values())
    unused = tuple(c for i, c in enumerate(header.cells) if i not in used and c)
    faults.unused(unused, _whole(faults.path, header))
    body = chain(first[number + 1 :], found)
    return layout, tuple(_kept(body, layout, header.cells, faults)), unused


def _text(source: Source, faults: Faults) -> tuple[str, str]:
    """Decode a table; "" where that makes no sense, with a finding that says why."""
    data = source.data
    if len(data) > LARGEST_BYTES:
        message = f"{len(data):,} bytes; the largest table that is read has {LARGEST_BYTES:,}"
        faults.add("csv-too-large", message)
        return "", "utf-8"
    text, encoding = _decoded(data)
    if "\0" in text or encoding == "":
        line = len(lines_of(text.partition("\0")[0]))
        message = "this is no table of text: save it as CSV in UTF-8, not as a workbook"
        faults.add("csv-not-text", message, Span(source.path, line, 1, line, 1))
        return "", encoding or "utf-16"
    if not text.strip():
        faults.add("csv-empty", "an empty file: a table begins with the names of its columns")
    if encoding == "windows-1252":
        message = "this table is not in UTF-8; it was read as Windows-1252"
        faults.add("csv-encoding-assumed", message, severity=Severity.NOTE)
    return text, encoding


def _decoded(data: bytes) -> tuple[str, str]:
    """Return the text and its encoding, "" where it says UTF-16 and is not."""
    if not data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return decode(data)
    try:
        return data.decode("utf-16"), "utf-16"
    except UnicodeDecodeError:
        return "", ""


def _delimiter(text: str, asked: Asked) -> tuple[str, str, int]:
    """Return the delimiter, the text it is in, and the lines taken off before that.

    Spreadsheets may say it in a first line of their own, "sep=;".
    """
    first = lines_of(text[:_LONGEST_SAID])[0]
    said = first[len(_SAID) :]
    if first.lower().startswith(_SAID) and said in DELIMITERS:
        rest = text[len(first) :]
        return said, rest.removeprefix("\r").removeprefix("\n"), 1

    def known(delimiter: str) -> tuple[int, int]:
        some = list(islice(records(text, delimiter), HEADER_WITHIN))
        header = header_row(some, asked)
        found = 0 if header is None else len(matched(some[header].cells, asked))
        return found, max((len(r.cells) for r in some), default=0)

    return max(DELIMITERS, key=known), text, 0


def _tell_no_header(rows: list[Record], asked: Asked, faults: Faults) -> None:
    """Say that no row names the columns; a row that is spoilt may be why, and is told too."""
    for row in rows[:HEADER_WITHIN]:
        faults.of_row(row)
    if rows:
        faults.no_header(rows[0].cells, asked, HEADER_WITHIN)


def _laid_out(header: Record, delimiter: str, asked: Asked, faults: Faults) -> Layout | None:
    """Return which column is which field; None where one is missing that must be there."""
    found = matched(header.cells, asked)
    missing = [
        field
        for field in asked.wanted
        if field not in found and (field in asked.required or field in asked.columns)
    ]
    faults.missing(missing, header.cells, asked, _whole(faults.path, header))
    for field, numbers in repeated(header.cells, found).items():
        second = cells_of(header.raw, delimiter)[numbers[1]]
        span = span_in(faults.path, header.line, header.raw, second.start, second.end)
        faults.twice(field, header.cells[numbers[1]], span)
        missing.append(field)
    if missing:
        return None
    headers = {field: header.cells[i] for field, i in found.items()}
    return Layout(
        path=faults.path,
        delimiter=delimiter,
        columns=found,
        fields={field: i for i, field in enumerate(found)},
        headers=headers,
    )


def _kept(
    body: Iterable[Record], layout: Layout, header: tuple[str, ...], faults: Faults
) -> Iterator[Row]:
    """Yield the rows that can be used; every other one is a finding, a blank one is nothing."""
    width = len(header)
    numbers = tuple(layout.columns.values())
    last = max(numbers)
    for count, record in enumerate(body):
        cells = record.cells
        if count >= MOST_ROWS:
            message = f"more than {MOST_ROWS:,} rows, the most that are read of one table"
            faults.add("csv-too-many-rows", message, _whole(faults.path, record))
            return
        if record.fault is not None:
            faults.of_row(record)
        elif any(cells[width:]):
            faults.too_many(record, width)
        elif cells == header:
            message = "the columns' names stand here again; this row is not read"
            place = _whole(faults.path, record)
            faults.add("csv-header-repeated", message, place, Severity.NOTE)
        elif any(cells):
            if len(cells) <= last:
                short = [layout.headers[f] for f, i in layout.columns.items() if i >= len(cells)]
                faults.too_few(record, width, short)
            values = tuple(cells[i] if i < len(cells) else "" for i in numbers)
            yield Row(line=record.line, raw=record.raw, values=values, layout=layout)


def _whole(path: str, record: Record) -> Span:
    return span_in(path, record.line, record.raw, 0, len(record.raw))
