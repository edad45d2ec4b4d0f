"""What can be wrong with a table of separated values, in words."""

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final

from translator.documents.csv_header import Asked
from translator.documents.csv_scan import Record
from translator.documents.locate import Lines
from translator.documents.words import shown
from translator.findings import Finding, Severity
from translator.source import Span, whole_file

MOST_FAULTS: Final = 100
"""Findings of one kind in one table that are told one by one."""

_MOST_NAMES: Final = 12


def span_in(path: str, line: int, raw: str, start: int, end: int) -> Span:
    """Return the place between two offsets of a row's text that begins on a line."""
    span = Lines(path, raw).span(start, end)
    return span._replace(line=span.line + line - 1, end_line=span.end_line + line - 1)


class Faults:
    """The findings of one table, told up to a number of each kind and counted beyond."""

    def __init__(self, path: str, setting: str) -> None:
        """Begin with none; ``setting`` is where a person names the columns."""
        self.path = path
        self._setting = setting
        self._found: list[Finding] = []
        self._count: Counter[str] = Counter()

    def add(
        self,
        rule: str,
        message: str,
        span: Span | None = None,
        severity: Severity = Severity.ERROR,
    ) -> None:
        """Keep one finding; without a place it is about the file."""
        self._count[rule] += 1
        if self._count[rule] <= MOST_FAULTS:
            place = whole_file(self.path) if span is None else span
            self._found.append(
                Finding(rule=rule, severity=severity, message=message, span=place, unit="")
            )

    def all(self) -> tuple[Finding, ...]:
        """Return what was found, with one more finding for each kind that was cut short."""
        severities = {f.rule: f.severity for f in self._found}
        more = tuple(
            Finding(
                rule=rule,
                severity=severities[rule],
                message=f"{count - MOST_FAULTS:,} more rows like these, which are not listed",
                span=whole_file(self.path),
                unit="",
            )
            for rule, count in sorted(self._count.items())
            if count > MOST_FAULTS
        )
        return (*self._found, *more)

    def of_row(self, record: Record) -> None:
        """Tell the fault of a row that could not be taken apart."""
        if record.fault is not None:
            start = record.fault.start
            span = span_in(self.path, record.line, record.raw, start, len(record.raw))
            self.add(record.fault.rule, record.fault.message, span)

    def too_many(self, record: Record, width: int) -> None:
        """Tell that a row has text behind the last column."""
        message = (
            f"{len(record.cells)} cells in this row; the header names {width} columns: a cell"
            " that holds the separator stands in quotes"
        )
        span = span_in(self.path, record.line, record.raw, 0, len(record.raw))
        self.add("csv-row-too-long", message, span)

    def too_few(self, record: Record, width: int, names: Sequence[str]) -> None:
        """Tell that a row ends before columns that were asked for."""
        message = (
            f"{len(record.cells)} cells in this row; the header names {width} columns: nothing"
            f" is read for {_listed(names)}"
        )
        span = span_in(self.path, record.line, record.raw, 0, len(record.raw))
        self.add("csv-row-short", message, span, Severity.WARNING)

    def no_header(self, first: Sequence[str], asked: Asked, within: int) -> None:
        """Tell that no row names the columns."""
        needed = asked.required or tuple(asked.wanted)
        message = (
            f"none of the first {within} rows names the columns: wanted are"
            f" {', '.join(needed)}; the first row holds {_listed(first)}{self._hint()}"
        )
        self.add("csv-header-missing", message)

    def missing(self, fields: Iterable[str], cells: Sequence[str], asked: Asked, at: Span) -> None:
        """Tell which columns are not there that are needed or that the settings name."""
        for field in fields:
            own = asked.columns.get(field)
            if own is not None:
                message = (
                    f"no column is called {shown(own)}, the name that the settings give the column"
                    f" of the {field}; the columns are {_listed(cells)}"
                )
                self.add("csv-column-missing", message, at)
            elif field in asked.required:
                message = (
                    f"no column for the {field}: its name may be {_listed(asked.names(field))};"
                    f" the columns are {_listed(cells)}{self._hint()}"
                )
                self.add("csv-column-missing", message, at)

    def twice(self, field: str, name: str, span: Span) -> None:
        """Tell that two columns have the name of one field."""
        message = f"a second column is called {shown(name)}; which of them is the {field}?"
        self.add("csv-column-repeated", message, span)

    def before(self, rows: Sequence[Record]) -> None:
        """Tell which rows stand above the header and are not read."""
        for row in rows:
            if row.fault is not None:
                self.of_row(row)
            text = " ".join(c for c in row.cells if c)
            if not text:
                continue
            span = span_in(self.path, row.line, row.raw, 0, len(row.raw))
            message = f"{shown(text)} stands above the columns' names and is not read"
            self.add("csv-rows-above", message, span, Severity.NOTE)

    def unused(self, names: Sequence[str], at: Span) -> None:
        """Tell which columns are not read."""
        if names:
            noun, verb = ("column", "is") if len(names) == 1 else ("columns", "are")
            message = f"the {noun} {_listed(names, len(names))} {verb} not read"
            self.add("csv-column-unused", message, at, Severity.NOTE)

    def _hint(self) -> str:
        return f"; {self._setting} in the settings may name them" if self._setting else ""


def _listed(names: Sequence[str], most: int = _MOST_NAMES) -> str:
    """List names in quotes, so many of them and then how many more."""
    some = [shown(name) for name in names[:most] if name]
    more = len(names) - most
    return ", ".join(some or ["nothing"]) + (f" and {more} more" if more > 0 else "")
