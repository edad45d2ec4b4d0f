"""Findings: the one value in which every fault of the user travels."""

from collections.abc import Iterable
from enum import StrEnum
from typing import Final

from msgspec import Struct, field

from translator.source import Span

CAUTION: Final = (
    "These checks are an aid. They do not replace the engineer of record, the governing code and"
    " its edition, local rules, licensed practice, machine guarding and lock-out, or first-piece"
    " inspection before an unattended run."
)
"""Stands wherever a person, or a program that feeds a machine, reads results."""

PROGRAM_FAULT: Final = "program-fault"
"""Rule of a finding that is no fault of the user: at this file the program itself failed."""


class Severity(StrEnum):
    """How much a finding weighs. An error keeps a part from being released."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """0 for error, 1 for warning, 2 for note."""
        return _RANK[self]


_RANK = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}


class Related(Struct, frozen=True, kw_only=True):
    """A second place a finding speaks of, with a word on why."""

    span: Span
    message: str


class Finding(Struct, frozen=True, kw_only=True):
    """One fault, warning or note.

    Attributes:
        rule: id of the rule, in words joined by hyphens; it reads well after "allow ...".
        severity: error, warning or note.
        message: a whole sentence; the offending value first, then the limit.
        span: where in the input.
        mark: piece mark the finding is about; "" when it is about a file.
        element: path of the element in the part ("legs.a.a3", "length"); "" for the whole.
        value: the offending figure in ``unit``, None where a figure makes no sense.
        limit: the figure it is held against; ``value < limit`` means lower is worse.
        unit: "mm", "deg", "kg", "kg/m", "%" or "" for a count.
        related: further places.
        waived: the reason of the waiver that accepts this finding, None when none does.
        waived_at: where that waiver stands; None where that is not known.
    """

    rule: str
    severity: Severity
    message: str
    span: Span
    mark: str = ""
    element: str = ""
    value: float | None = None
    limit: float | None = None
    unit: str = "mm"
    related: tuple[Related, ...] = field(default=())
    waived: str | None = None
    waived_at: Span | None = None


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sort findings totally: path, line, column, severity, rule, element, message.

    Equal findings are kept once.
    """
    by_path: dict[str, dict[Finding, None]] = {}
    for finding in findings:
        by_path.setdefault(finding.span.path, {})[finding] = None
    # Path by path, so that of thousands of files the keys of one are held at a time.
    return tuple(f for path in sorted(by_path) for f in sorted(by_path.pop(path), key=_key))


def _key(f: Finding) -> tuple[object, ...]:
    return (
        f.span.path,
        f.span.line,
        f.span.column,
        f.severity.rank,
        f.rule,
        f.element,
        f.message,
        f.mark,
        f.span.end_line,
        f.span.end_column,
        "" if f.value is None else repr(f.value),
        "" if f.limit is None else repr(f.limit),
        f.unit,
        tuple((r.span, r.message) for r in f.related),
        f.waived or "",
        f.waived_at or (),
    )


def count(findings: Iterable[Finding], severity: Severity) -> int:
    """Count the findings of one severity that no waiver accepts."""
    return sum(1 for f in findings if f.severity is severity and f.waived is None)


class Fit(Struct, frozen=True, kw_only=True):
    """What one machine can make of one part.

    Attributes:
        path: file of the part.
        mark: piece mark.
        machine: name of the machine.
        verdict: "complete", "with second work" or "not".
        why: the first reason why not, or the second work in a list; "" when complete.
    """

    path: str
    mark: str
    machine: str
    verdict: str
    why: str = ""


class Verdict(Struct, frozen=True, kw_only=True):
    """What was looked at, and everything that was found.

    A clean sheet and a sheet on which nothing was checked are not the same, so the verdict
    names the files and the rules too.

    Attributes:
        findings: all findings, the waived ones with their reason, in any order.
        files: path of every file that was read.
        parts: how many parts could be read.
        pieces: file and piece mark of each of them.
        rules_run: names of the rules that were applied.
        rules_not_applicable: name of a rule that was not, and why.
        not_ours: path of a file that is not for this tool, and why.
        practice: the codes and editions that the parts were judged by, in words.
        changed: name of a rule that the settings hold to another limit than the code's, or
            give another weight, and how.
        fits: for each part in turn, what each machine asked about can make of it.
    """

    findings: tuple[Finding, ...] = ()
    files: tuple[str, ...] = ()
    parts: int = 0
    pieces: tuple[tuple[str, str], ...] = ()
    rules_run: tuple[str, ...] = ()
    rules_not_applicable: tuple[tuple[str, str], ...] = ()
    not_ours: tuple[tuple[str, str], ...] = ()
    practice: tuple[str, ...] = ()
    changed: tuple[tuple[str, str], ...] = ()
    fits: tuple[Fit, ...] = ()
