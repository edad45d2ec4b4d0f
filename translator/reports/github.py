"""The report for a build on a code host: GitHub workflow commands, one annotation a line."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from translator.findings import CAUTION, Severity, Verdict, count, in_order
from translator.reports._groups import Group, grouped, times, waiver_words
from translator.reports._report import Report, ReportOptions
from translator.source import Span, printable, whole_file

_LEVELS: Final = MappingProxyType(
    {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}
)


def render(verdict: Verdict, _options: ReportOptions) -> str:
    """Return an annotation for each finding, then a line of counts and the caution.

    Equal findings of one part are one annotation with a count, since a code host shows only
    the first few. A waived finding is a notice, with its reason.
    """
    lines = [_annotation(group) for group in grouped(in_order(verdict.findings))]
    lines += [
        _command("notice", whole_file(path), "not for this tool", why)
        for path, why in sorted(verdict.not_ours)
    ]
    lines += _closing(verdict)
    return "\n".join(lines) + "\n"


def _annotation(group: Group) -> str:
    first = group.findings[0]
    title = f"{first.mark}: {first.rule}" if first.mark else first.rule
    message = printable(first.message) + times(group)
    if first.waived is None:
        return _command(_LEVELS[first.severity], first.span, title, message)
    title = f"waived {first.severity}: {title}"
    return _command(
        "notice", first.span, title, f"{message}\nwaived: {printable(waiver_words(first))}"
    )


def _command(level: str, span: Span, title: str, message: str) -> str:
    fields = {"file": span.path, **_region(span), "title": title}
    words = ",".join(f"{name}={_property(value)}" for name, value in fields.items())
    return f"::{level} {words}::{_data(message)}"


def _region(span: Span) -> Mapping[str, str]:
    """Return the lines and columns of a place; a column ends a region of one line only."""
    if span == whole_file(span.path):
        return {}
    region = {"line": str(span.line)}
    if span.end_line > span.line:
        return {**region, "endLine": str(span.end_line)}
    region["col"] = str(span.column)
    if span.end_column > span.column:
        region["endColumn"] = str(span.end_column)
    return region


def _closing(verdict: Verdict) -> Iterator[str]:
    counts = [f"{severity}s: {count(verdict.findings, severity)}" for severity in Severity]
    waived = sum(1 for finding in verdict.findings if finding.waived is not None)
    yield f"{', '.join(counts)}, waived: {waived}, parts: {verdict.parts}"
    if verdict.files:
        yield CAUTION


def _data(text: str) -> str:
    """Escape a message; its line ends are our own, nothing else in it is a control character."""
    lines = (printable(line) for line in text.split("\n"))
    return "%0A".join(line.replace("%", "%25") for line in lines)


def _property(text: str) -> str:
    return printable(text).replace("%", "%25").replace(":", "%3A").replace(",", "%2C")


REPORT: Final = Report(
    name="github",
    title="findings as GitHub annotations",
    media_type="text/plain",
    render=render,
)
