"""What is said about each part: equal findings once, numbered, with the line they speak of."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from msgspec import Struct

from translator.findings import Finding, Verdict, in_order
from translator.model import Placed
from translator.reports._excerpt import excerpt
from translator.reports._groups import Group, grouped, times
from translator.source import Span, decode, lines_of

_WIDTH: Final = 92
"""Columns of a source line, as many as fit on paper beside the number."""
_RELATED_SHOWN: Final = 8


class Issue(Struct, frozen=True, kw_only=True):
    """Equal findings of one part, or of the files.

    Attributes:
        number: within its part, from 1.
        findings: at least one.
        excerpt: the source line of the first and the marks under it; "" where there is none.
    """

    number: int
    findings: tuple[Finding, ...]
    excerpt: tuple[str, str]

    @property
    def first(self) -> Finding:
        """The finding that stands for all."""
        return self.findings[0]

    @property
    def kind(self) -> str:
        """Its severity, or "waived"."""
        return "waived" if self.first.waived is not None else str(self.first.severity)


def issues(
    verdict: Verdict, parts: Sequence[Placed], sources: Mapping[str, bytes]
) -> tuple[tuple[tuple[Issue, ...], ...], tuple[Issue, ...]]:
    """Return the issues of each part, in their order, and those that are about no part."""
    owners = _owners(parts)
    own: list[list[Finding]] = [[] for _ in parts]
    rest: list[Finding] = []
    for finding in in_order(verdict.findings):
        index = _owner(finding, owners, parts)
        (rest if index is None else own[index]).append(finding)
    lines: dict[str, list[str]] = {}
    return (
        tuple(_numbered(found, sources, lines) for found in own),
        _numbered(rest, sources, lines),
    )


def document(issue: Issue) -> dict[str, Any]:
    """Return an issue as a dictionary for the page's script; only what there is to say."""
    first = issue.first
    line, marks = issue.excerpt
    said: dict[str, Any] = {
        "n": issue.number,
        "kind": issue.kind,
        "severity": str(first.severity),
        "rule": first.rule,
        "count": len(issue.findings),
        "text": first.message + times(Group(findings=issue.findings)),
        "place": _place(first.span),
        "element": first.element,
    }
    if line:
        said |= {"line": line, "marks": marks}
    if first.waived is not None:
        said["waived"] = first.waived
    if first.waived_at is not None:
        said["waived_at"] = _place(first.waived_at)
    if first.related:
        shown = first.related[:_RELATED_SHOWN]
        said["related"] = [f"{_place(r.span)}: {r.message}" for r in shown]
        said["more"] = len(first.related) - len(shown)
    return said


def _place(span: Span) -> str:
    return f"{span.path}:{span.line}:{span.column}"


def _owners(parts: Sequence[Placed]) -> Mapping[tuple[str, str], list[int]]:
    owners: dict[tuple[str, str], list[int]] = {}
    for index, placed in enumerate(parts):
        owners.setdefault((placed.places[""].path, placed.part.mark), []).append(index)
        owners.setdefault(("", placed.part.mark), []).append(index)
    return owners


def _owner(
    finding: Finding, owners: Mapping[tuple[str, str], list[int]], parts: Sequence[Placed]
) -> int | None:
    """Return the part a finding is about: by file and mark, of several the one before it."""
    if not finding.mark:
        return None
    found = owners.get((finding.span.path, finding.mark))
    if found is None:
        alone = owners.get(("", finding.mark), [])
        return alone[0] if len(alone) == 1 else None
    line = finding.span.line
    before = [i for i in found if parts[i].places[""].line <= line]
    return before[-1] if before else found[0]


def _numbered(
    found: Sequence[Finding], sources: Mapping[str, bytes], lines: dict[str, list[str]]
) -> tuple[Issue, ...]:
    ordered = sorted(grouped(found), key=lambda g: (_weight(g), g.findings[0].severity.rank))
    return tuple(
        Issue(
            number=number,
            findings=group.findings,
            excerpt=_excerpt(group.findings[0].span, sources, lines),
        )
        for number, group in enumerate(ordered, start=1)
    )


def _weight(group: Group) -> bool:
    return group.findings[0].waived is not None


def _excerpt(
    span: Span, sources: Mapping[str, bytes], lines: dict[str, list[str]]
) -> tuple[str, str]:
    """Return the line and its marks, without the indentation that a terminal gives them."""
    if span.path not in lines:
        data = sources.get(span.path)
        lines[span.path] = [] if data is None else lines_of(decode(data)[0])
    found = excerpt(span, lines[span.path], _WIDTH)
    if found is None:
        return "", ""
    indent = len(found[0]) - len(found[0].lstrip(" "))
    cut = min(indent, len(found[1]) - len(found[1].lstrip(" ")))
    return found[0][cut:], found[1][cut:]
