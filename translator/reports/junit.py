"""The report for build servers: JUnit XML, a suite for each file, a case for each part."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.findings import CAUTION, Finding, Severity, Verdict, in_order
from translator.reports._groups import waiver_words
from translator.reports._report import Report, ReportOptions
from translator.source import printable

WHOLE_FILE: Final = "(file)"
"""Name of the case that holds what concerns a file and none of its parts."""


class _Case(Struct, frozen=True, kw_only=True):
    """One test case: a part or a file, what was found, and why it was passed over."""

    name: str
    findings: Sequence[Finding]
    skipped: str = ""

    @property
    def errors(self) -> tuple[Finding, ...]:
        """What makes the case fail: errors that no waiver accepts."""
        return tuple(f for f in self.findings if _is_failure(f))

    @property
    def others(self) -> tuple[Finding, ...]:
        """All that does not make it fail."""
        return tuple(f for f in self.findings if not _is_failure(f))


def render(verdict: Verdict, _options: ReportOptions) -> str:
    """Return a case for each part, and for each file that has findings of its own or no part.

    A case fails for errors that no waiver accepts; it has one failure, which lists them all.
    Warnings, notes and what is waived stand in the case's output. There is no time in it, so
    that the same input gives the same bytes.
    """
    suites = {path: tuple(cases) for path, cases in _cases(verdict).items()}
    whole = [case for cases in suites.values() for case in cases]
    lines = ['<?xml version="1.0" encoding="UTF-8"?>']
    lines.append(f'<testsuites name="Backmark" {_counts(whole)}>')
    for path, cases in suites.items():
        lines.append(f'  <testsuite name="{_text(path)}" {_counts(cases)}>')
        for case in cases:
            lines += _case_lines(path, case)
        lines.append("  </testsuite>")
    lines.append(f"  <!-- {CAUTION} -->")
    lines.append("</testsuites>")
    return "\n".join(lines) + "\n"


def _cases(verdict: Verdict) -> Mapping[str, list[_Case]]:
    """Return the cases of each file: the file itself where it has one, then its parts."""
    not_ours = dict(verdict.not_ours)
    suites: dict[str, dict[str, list[Finding]]] = {path: {} for path in (*verdict.files, *not_ours)}
    for path, mark in verdict.pieces:
        suites.setdefault(path, {})[mark] = []
    of_files: dict[str, list[Finding]] = {}
    for finding in in_order(verdict.findings):
        path = finding.span.path
        parts = suites.setdefault(path, {})
        parts.get(finding.mark, of_files.setdefault(path, [])).append(finding)
    cases: dict[str, list[_Case]] = {}
    for path, parts in sorted(suites.items()):
        cases[path] = [_Case(name=mark, findings=found) for mark, found in parts.items()]
        if of_files.get(path) or not parts:
            why, found = not_ours.get(path, ""), of_files.get(path, [])
            cases[path].insert(0, _Case(name=WHOLE_FILE, findings=found, skipped=why))
    return cases


def _case_lines(path: str, case: _Case) -> Iterator[str]:
    head = f'    <testcase classname="{_text(path)}" name="{_text(case.name)}"'
    errors, others = case.errors, case.others
    if not (errors or others or case.skipped):
        yield f"{head}/>"
        return
    yield f"{head}>"
    if errors:
        first = errors[0]
        message = f"{first.message}{_more(len(errors) - 1)}"
        yield (
            f'      <failure type="{_text(first.rule)}" message="{_text(message)}">'
            f"{_body(errors)}</failure>"
        )
    elif case.skipped:
        yield f'      <skipped message="{_text(f"not for this tool: {case.skipped}")}"/>'
    if others:
        yield f"      <system-out>{_body(others)}</system-out>"
    yield "    </testcase>"


def _more(number: int) -> str:
    return f" (and {number} more)" if number else ""


def _body(findings: Iterable[Finding]) -> str:
    return "\n".join(line for finding in findings for line in _lines(finding))


def _lines(f: Finding) -> Iterator[str]:
    word = str(f.severity) if f.waived is None else f"waived {f.severity}"
    place = f"{_place(f)}: {word}"
    yield f"{_text(place)}: {_text(f.message)} [{_text(f.rule)}]"
    if f.waived is not None:
        yield f"    waived: {_text(waiver_words(f))}"
    for related in f.related:
        span = related.span
        yield _text(f"    see {span.path}:{span.line}:{span.column}: {related.message}")


def _place(f: Finding) -> str:
    return f"{f.span.path}:{f.span.line}:{f.span.column}"


def _is_failure(f: Finding) -> bool:
    return f.severity is Severity.ERROR and f.waived is None


def _counts(cases: Iterable[_Case]) -> str:
    listed = tuple(cases)
    failures = sum(1 for case in listed if case.errors)
    skipped = sum(1 for case in listed if case.skipped and not case.errors)
    return f'tests="{len(listed)}" failures="{failures}" errors="0" skipped="{skipped}"'


def _text(text: str) -> str:
    """Return text as XML may hold it: without control characters, markup escaped."""
    import html  # its table of names would be read at every start

    return html.escape(printable(text))


REPORT: Final = Report(
    name="junit",
    title="findings as JUnit XML",
    media_type="application/xml",
    render=render,
)
