"""What is wanted of each mark: its quantity, less what is cut already, and what is cut again."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.documents.csv_numbers import whole_number
from translator.documents.csv_table import Row, read_table
from translator.findings import Finding, Severity
from translator.lengths.characters import shown
from translator.model import Part, Placed
from translator.source import Source, printable

COLUMNS: Final[dict[str, tuple[str, ...]]] = {
    "mark": ("mark", "piece mark", "piecemark"),
    "order": ("order", "job", "contract"),
    "done": ("done", "cut", "already cut", "made"),
    "recut": ("recut", "cut again", "scrapped"),
    "priority": ("priority", "urgency"),
}
"""Field -> names that its column may have."""

MOST: Final = 1_000_000
"""More pieces of one mark are a slip of the pen."""


class Progress(Struct, frozen=True, kw_only=True):
    """What is already cut of a mark, how much is cut again, and how much it presses."""

    done: int = 0
    recut: int = 0
    priority: int = 0


class Demand(Struct, frozen=True, kw_only=True):
    """What is wanted of one mark.

    Attributes:
        placed: the part and the places of its elements.
        progress: what was cut already.
    """

    placed: Placed
    progress: Progress = Progress()

    @property
    def part(self) -> Part:
        """The part."""
        return self.placed.part

    @property
    def source(self) -> str:
        """Path of the file that it stands in, every sign of it to be seen."""
        return printable(self.placed.places[""].path)

    @property
    def count(self) -> int:
        """How many pieces are still to be cut."""
        still = self.part.quantity - self.progress.done + self.progress.recut
        return max(0, still)


def source_of(placed: Placed) -> str:
    """Return the path of a part's file as a plan names it: control characters are escaped."""
    return printable(placed.places[""].path)


class ProgressList(Struct, frozen=True, kw_only=True):
    """A table of what is cut already, by order and mark; order "" stands for any."""

    rows: Mapping[tuple[str, str], Progress]
    places: Mapping[tuple[str, str], Row]
    findings: tuple[Finding, ...]

    @property
    def is_sound(self) -> bool:
        """Whether every line could be read."""
        return not any(f.severity is Severity.ERROR for f in self.findings)


def read_progress(source: Source) -> ProgressList:
    """Read what is cut already: columns mark, order, done, recut and priority.

    ``done`` counts pieces that need not be cut any more, ``recut`` pieces to be cut beside the
    quantity because some were spoilt; a greater ``priority`` is loaded earlier.
    """
    table = read_table(source, COLUMNS, required=("mark",))
    rows: dict[tuple[str, str], Progress] = {}
    places: dict[tuple[str, str], Row] = {}
    findings = list(table.findings)
    for row in table.rows:
        key = (row.text("order"), row.text("mark"))
        if key in rows:
            message = f"mark {shown(key[1])} stands twice: in line {places[key].line} too"
            findings.append(_finding(row, "mark", message))
            continue
        counts = {field: _count(row, field) for field in ("done", "recut", "priority")}
        wrong = [value for value in counts.values() if isinstance(value, Finding)]
        findings += wrong
        if not wrong:
            rows[key] = Progress(**{k: v for k, v in counts.items() if isinstance(v, int)})
            places[key] = row
    return ProgressList(rows=rows, places=places, findings=tuple(findings))


def demands(
    parts: Sequence[Placed], progress: ProgressList | None = None
) -> tuple[tuple[Demand, ...], tuple[Finding, ...]]:
    """Return what is wanted of each part; and findings on marks that are in no part.

    A row without an order stands for every order that has such a mark.
    """
    if progress is None:
        return tuple(Demand(placed=placed) for placed in parts), ()
    out = []
    used: set[tuple[str, str]] = set()
    for placed in parts:
        keys = [(placed.part.order or "", placed.part.mark), ("", placed.part.mark)]
        key = next((k for k in keys if k in progress.rows), None)
        if key is not None:
            used.add(key)
        own = progress.rows[key] if key is not None else Progress()
        out.append(Demand(placed=placed, progress=own))
    return tuple(out), tuple(_strangers(progress, used))


def _strangers(progress: ProgressList, used: Iterable[tuple[str, str]]) -> Iterator[Finding]:
    for key in progress.rows.keys() - set(used):
        message = f"mark {shown(key[1])} is in none of the parts that may be planned"
        yield _finding(progress.places[key], "mark", message, Severity.WARNING)


def _count(row: Row, field: str) -> int | Finding:
    text = row.text(field)
    if not text:
        return 0
    count = whole_number(text, ".")
    if count is None or not 0 <= count <= MOST:
        message = f"{field} is {shown(text)}, it must be a whole number from 0 to {MOST:,}"
        return _finding(row, field, message)
    return count


def _finding(row: Row, field: str, message: str, severity: Severity = Severity.ERROR) -> Finding:
    return Finding(
        rule="progress-line-wrong", severity=severity, message=message, span=row.span(field)
    )
