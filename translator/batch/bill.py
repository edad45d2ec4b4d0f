"""The bill of pieces that ``check --bill`` holds the parts against: read, and compared."""

from collections.abc import Mapping, Sequence
from fnmatch import fnmatchcase
from fractions import Fraction
from pathlib import Path
from typing import Final

from msgspec import Struct, field
from msgspec.structs import replace

from translator.bars.wording import many
from translator.batch.bill_cells import Cells, is_other, length_unit, mass_unit
from translator.batch.bill_settings import COLUMNS, FIELDS, REQUIRED, TABLE, BillSettings
from translator.batch.configuration import Configuration
from translator.batch.discover import reason, shown
from translator.documents.csv_faults import MOST_FAULTS
from translator.documents.csv_numbers import decimal_sign, whole_number
from translator.documents.csv_table import LARGEST_BYTES, Row, Table, read_table
from translator.errors import WorkError
from translator.findings import Finding, Severity, in_order
from translator.rules import rules
from translator.rules._bill import KILOGRAM, POUND, Bill, BillFacts, BillLine, bill_findings
from translator.rules._digest import Digest
from translator.rules._judged import weighed
from translator.source import Source, Span, whole_file

_TOTALS: Final = ("total", "totals", "sum", "grand total", "subtotal")
_COMPARED: Final = ("section", "length", "grade", "revision")
_NAMED: Final = 6
_NUMBERS: Final = ("quantity", "length", "mass")
_KILOGRAMS: Final = {"kg": KILOGRAM, "lb": POUND}


class BillReading(Struct, frozen=True, kw_only=True):
    """A bill and what is to be said of it; None where no table could be read.

    ``sources`` holds the bytes of the bill and of the settings that it was read by, by path.
    """

    bill: Bill | None
    findings: tuple[Finding, ...]
    sources: Mapping[str, bytes] = field(default_factory=dict)


def load_bill(path: Path) -> Source:
    """Return the bytes of a bill; of a file that is too large only enough to say so.

    Raises:
        WorkError: when the file can't be read.
    """
    try:
        with path.open("rb") as stream:
            return Source(path=shown(path), data=stream.read(LARGEST_BYTES + 1))
    except (OSError, ValueError) as error:
        why = reason(error) if isinstance(error, OSError) else "no such file"
        raise WorkError(f"can't read {shown(path)}: {why}") from error


def read_bill(source: Source, settings: BillSettings | None = None) -> BillReading:
    """Read a bill; any bytes give findings, never an exception.

    Args:
        source: the file.
        settings: the table ``[bill]`` of the settings.
    """
    settings = settings or BillSettings()
    table = read_table(
        source,
        FIELDS,
        required=REQUIRED,
        columns=settings.columns,
        setting=f"[{TABLE}] {COLUMNS}",
    )
    if table.layout is None:
        return BillReading(bill=None, findings=table.findings)
    headers = table.layout.headers
    cells = Cells(
        sign=_sign(table, table.layout.delimiter),
        units=length_unit(headers.get("length", "")) or settings.units,
    )
    lines, rows, said = _lines(table, cells, settings.elsewhere)
    bill = Bill(
        path=table.path,
        lines=lines,
        rows=rows,
        fields=frozenset(table.layout.columns),
        units=settings.units,
        mass_unit=_mass_unit(headers.get("mass", ""), settings),
    )
    findings = (*table.findings, *cells.findings, *said, *_of_all(bill, cells))
    return BillReading(bill=bill, findings=in_order(findings))


def read_bill_file(path: Path, own: Configuration, *, is_told: bool) -> BillReading:
    """Read a bill of the disk by some settings.

    Args:
        path: of the bill.
        own: the settings it comes under.
        is_told: whether the faults of the settings are told elsewhere.

    Raises:
        WorkError: when the file can't be read.
    """
    source = load_bill(path)
    sources = {source.path: source.data}
    if own.path is not None:
        sources[shown(own.path)] = own.data
    reading = read_bill(source, own.bill)
    findings = (*reading.findings, *(() if is_told else own.findings))
    return replace(reading, findings=findings, sources=sources)


def check_bill(
    path: Path,
    configuration: Configuration,
    digests: Sequence[Digest],
    places: Sequence[Span] | None = None,
) -> tuple[Finding, ...]:
    """Read a bill and hold the parts of a delivery against it.

    Args:
        path: of the bill.
        configuration: the settings it comes under.
        digests: all parts; their numbers do not count.
        places: of the mark of each part; the file as a whole where not given.

    Raises:
        WorkError: when the file can't be read.
    """
    reading = read_bill(load_bill(path), configuration.bill)
    if reading.bill is None:
        return reading.findings
    spans = [whole_file(d.path) for d in digests] if places is None else places
    practice = configuration.practice
    numbered = [replace(digest, number=number) for number, digest in enumerate(digests)]
    facts = BillFacts(reading.bill, numbered, practice)
    off = {name for name, weight in practice.severities.items() if weight is None}
    on = [rule for rule in rules() if rule.name not in off]
    found = [finding for _, finding in bill_findings(facts, on, spans)]
    return in_order((*reading.findings, *weighed(found, practice)))


def _sign(table: Table, delimiter: str) -> str:
    numbers = (row.text(name) for row in table.rows for name in _NUMBERS)
    return decimal_sign(numbers, delimiter)


def _mass_unit(header: str, settings: BillSettings) -> Fraction | None:
    own = mass_unit(header)
    return _KILOGRAMS.get(settings.mass or "") if own is None else own


def _lines(
    table: Table, cells: Cells, elsewhere: Sequence[str]
) -> tuple[tuple[BillLine, ...], tuple[Row, ...], list[Finding]]:
    """Return the lines of a bill and the row of each; rows without a mark are findings."""
    lines: list[BillLine] = []
    rows: list[Row] = []
    left_out: list[Finding] = []
    pieces = 0
    for row in table.rows:
        mark = row.text("mark")
        if not mark or _is_sum(row, len(lines), pieces, cells.sign):
            left_out.append(_left_out(row))
        else:
            is_away = any(fnmatchcase(mark, pattern) for pattern in elsewhere)
            line = _line(len(lines), mark, row, cells)
            lines.append(replace(line, is_ours=line.is_ours and not is_away))
            rows.append(row)
            pieces += line.quantity or 0
    return tuple(lines), tuple(rows), _cut_short(left_out, table.path)


def _is_sum(row: Row, count: int, pieces: int, sign: str) -> bool:
    """Tell whether a row is one of sums: by its word, or by the figure in whatever language."""
    if row.text("section"):
        return False
    is_bare = {"section", "length"} <= set(row.layout.columns) and not row.text("length")
    is_sum = count > 1 and whole_number(row.text("quantity"), sign) == pieces
    return row.text("mark").casefold().strip(": ") in _TOTALS or (is_bare and is_sum)


def _line(count: int, mark: str, row: Row, cells: Cells) -> BillLine:
    section, is_ours = cells.section(row)
    return BillLine(
        number=count,
        mark=mark,
        order=row.text("order"),
        quantity=cells.quantity(row),
        section=section,
        length=cells.length(row) if is_ours else None,
        grade=cells.text(row, "grade"),
        revision=cells.text(row, "revision") or None,
        mass=cells.mass(row) if is_ours else None,
        is_ours=is_ours,
    )


def _left_out(row: Row) -> Finding:
    """Tell of a row that is not compared; a warning where it may be a piece for this shop."""
    section = row.text("section")
    is_piece = bool(section) and not row.text("mark") and not is_other(section)
    what = f"a row without a mark ({section or 'and without a section'})"
    if row.text("mark"):
        what = f"{row.text('mark')} is taken for a row of sums"
    return Finding(
        rule="bill-row-without-mark",
        severity=Severity.WARNING if is_piece else Severity.NOTE,
        message=f"{what}: it is not compared",
        span=row.place,
        unit="",
    )


def _of_all(bill: Bill, cells: Cells) -> list[Finding]:
    """Say what of the bill as a whole is not compared."""
    said: list[str] = []
    others = [line for line in bill.lines if not line.is_ours]
    if others:
        names = list(dict.fromkeys(f"{line.mark} {line.section}".strip() for line in others))
        more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
        rows = "1 row is" if len(others) == 1 else f"{len(others)} rows are"
        said.append(
            f"{rows} not for this shop ({', '.join(names[:_NAMED])}{more}): compared only where"
            " a part has the mark"
        )
    for name, count in sorted(cells.empty.items()):
        rows = "1 row has" if count == 1 else f"{count} rows have"
        said.append(f"{rows} no {name}: nothing is compared there")
    missing = [name for name in _COMPARED if name not in bill.fields]
    said += [f"the bill has no column for the {name}: it is not compared" for name in missing]
    for name, count in sorted(cells.more.items()):
        if count > MOST_FAULTS:
            said.append(f"{count - MOST_FAULTS} more cells of the {name} can't be read")
    marks = len({(line.mark, line.order) for line in bill.lines})
    pieces = sum(line.quantity or 0 for line in bill.lines)
    whole = f"{many(marks, 'mark')} in {many(len(bill.lines), 'row')}, {many(pieces, 'piece')}"
    read = replace(_note(bill.path, f"the bill asks for {whole}"), rule="bill-read")
    return [read, *(_note(bill.path, message) for message in said)]


def _note(path: str, message: str) -> Finding:
    return Finding(
        rule="bill-not-compared",
        severity=Severity.NOTE,
        message=message,
        span=whole_file(path),
        unit="",
    )


def _cut_short(found: list[Finding], path: str) -> list[Finding]:
    if len(found) <= MOST_FAULTS:
        return found
    more = f"{len(found) - MOST_FAULTS} more rows without a mark, which are not listed"
    last = replace(found[0], message=more, span=whole_file(path), severity=Severity.WARNING)
    return [*found[:MOST_FAULTS], last]
