"""What a reading has to say, and what became of each line."""

from collections.abc import Iterable, Mapping
from typing import Final, Literal

from msgspec import Struct

from translator.findings import Finding, Related, Severity, in_order
from translator.readers.nc._tree import Line, Remark
from translator.source import Span

Fate = Literal["translated", "carried", "reported"]
"""What became of a line: it is in the part, kept as it stands, or named in a finding."""

_SHOWN_PLACES: Final = 20
_SHOWN_FINDINGS: Final = 50
"""Findings of one rule in one file; the rest is counted in one more finding."""


class Book:
    """Collects remarks and the fate of each line while one file is read.

    Not a value that travels: it lives as long as one call of ``parse`` or ``lower``.
    """

    __slots__ = ("fates", "kept", "remarks")

    def __init__(self, remarks: Iterable[Remark] = ()) -> None:
        self.remarks: list[Remark] = list(remarks)
        self.fates: dict[int, Fate] = {}
        self.kept: set[int] = set()

    def note(
        self, rule: str, text: str, line: int, *, related: tuple[tuple[int, str], ...] = ()
    ) -> None:
        """Say something that changes nothing."""
        self._say(rule, Severity.NOTE, text, line, 1, related=related)

    def odd(self, rule: str, text: str, line: int, column: int = 1) -> None:
        """Note a harmless departure from the standard."""
        self._say(rule, Severity.NOTE, text, line, column, is_deviation=True)

    def warn(self, rule: str, text: str, line: int, column: int = 1) -> None:
        """Report a departure from the standard that a person should look at."""
        self._say(rule, Severity.WARNING, text, line, column, is_deviation=True)

    def fail(self, rule: str, text: str, line: int, column: int = 1) -> None:
        """Report an error that does not keep the part from being read."""
        self._say(rule, Severity.ERROR, text, line, column)

    def refuse(
        self,
        rule: str,
        text: str,
        line: int,
        column: int = 1,
        *,
        related: tuple[tuple[int, str], ...] = (),
    ) -> None:
        """Report an error with which no part may come out."""
        self._say(rule, Severity.ERROR, text, line, column, is_fatal=True, related=related)

    def _say(  # noqa: PLR0913 - one argument for each field of a remark
        self,
        rule: str,
        severity: Severity,
        text: str,
        line: int,
        column: int,
        *,
        is_deviation: bool = False,
        is_fatal: bool = False,
        related: tuple[tuple[int, str], ...] = (),
    ) -> None:
        self.remarks.append(
            Remark(
                rule=rule,
                severity=severity,
                text=text,
                line=line,
                column=column,
                is_deviation=is_deviation,
                is_fatal=is_fatal,
                related=related,
            )
        )

    def carry(self, line: int) -> None:
        """Note that a line is kept as it stands, unless it was also translated."""
        self.kept.add(line)
        self.fates.setdefault(line, "carried")

    def translate(self, line: int) -> None:
        """Note that a line is in the part."""
        self.fates[line] = "translated"

    def report(self, line: int) -> None:
        """Note that a line is named in a finding and nowhere else."""
        self.fates.setdefault(line, "reported")

    def said_of(self) -> frozenset[int]:
        """Return the numbers of the lines that remarks speak of."""
        return frozenset(r.line for r in self.remarks) | frozenset(
            line for r in self.remarks for line, _ in r.related
        )


class Place(Struct, frozen=True, kw_only=True):
    """What is needed to place a remark: the file, its lines by number, and the mark."""

    path: str
    lines: Mapping[int, Line]
    mark: str = ""

    def span(self, number: int, column: int = 1, end: int | None = None) -> Span:
        """Return the place of a line, from a column to another or to its end."""
        line = self.lines.get(number)
        behind = len(line.text.rstrip()) + 1 if line is not None else 1
        return Span(self.path, number, column, number, max(column, end or behind))


def findings_of(remarks: Iterable[Remark], place: Place, *, strict: bool) -> tuple[Finding, ...]:
    """Turn remarks into findings: equal ones become one, and no rule floods the report."""
    groups: dict[tuple[str, Severity, str], list[Remark]] = {}
    for remark in sorted(remarks, key=lambda r: (r.line, r.column, r.rule, r.text)):
        severity = Severity.ERROR if strict and remark.is_deviation else remark.severity
        groups.setdefault((remark.rule, severity, remark.text), []).append(remark)
    shown: dict[tuple[str, Severity], int] = {}
    surplus: dict[tuple[str, Severity], list[Remark]] = {}
    result: list[Finding] = []
    for (rule, severity, _), group in groups.items():
        number = shown.get((rule, severity), 0)
        shown[rule, severity] = number + 1
        if number >= _SHOWN_FINDINGS:
            surplus.setdefault((rule, severity), []).extend(group)
            continue
        result.append(_finding(group, severity, place))
    for (_, severity), rest in surplus.items():
        result.append(_surplus(rest, severity, place))
    return in_order(result)


def _finding(group: list[Remark], severity: Severity, place: Place) -> Finding:
    first = group[0]
    numbers = sorted({r.line for r in group})
    message = first.text
    if len(numbers) > 1:
        message += f" ({len(numbers)} lines: {_ranges(numbers)})"
    related = [Related(span=place.span(line), message=why) for line, why in first.related]
    related += [
        Related(span=place.span(line), message="the same here") for line in numbers[1:_SHOWN_PLACES]
    ]
    return Finding(
        rule=first.rule,
        severity=severity,
        message=message,
        span=place.span(first.line, first.column, first.end_column),
        mark=place.mark,
        unit="",
        related=tuple(related),
    )


def _surplus(rest: list[Remark], severity: Severity, place: Place) -> Finding:
    numbers = sorted({r.line for r in rest})
    return Finding(
        rule=rest[0].rule,
        severity=severity,
        message=f"{len(rest)} more findings of this kind (lines {_ranges(numbers)})",
        span=place.span(numbers[0]),
        mark=place.mark,
        unit="",
    )


def _ranges(numbers: list[int]) -> str:
    """Write line numbers as "3, 5-9"; a long list is cut and its last number given."""
    runs: list[tuple[int, int]] = []
    for number in numbers:
        if runs and runs[-1][1] == number - 1:
            runs[-1] = (runs[-1][0], number)
        else:
            runs.append((number, number))
    texts = [f"{a}" if a == b else f"{a}-{b}" for a, b in runs[:_SHOWN_PLACES]]
    if len(runs) > _SHOWN_PLACES:
        texts.append(f"... {numbers[-1]}")
    return ", ".join(texts)
