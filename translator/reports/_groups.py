"""Equal findings, said once with a count."""

import re
from collections.abc import Iterable
from typing import Final

from msgspec import Struct

from translator.findings import Finding
from translator.source import printable

_PLACES_SHOWN: Final = 8


class Group(Struct, frozen=True, kw_only=True):
    """Findings that differ in their place only; ``findings`` holds at least one."""

    findings: tuple[Finding, ...]


def grouped(findings: Iterable[Finding]) -> tuple[Group, ...]:
    """Put equal findings together, each group at the place of its first finding.

    Equal means: the same rule, severity, waiver, file and piece mark, and the same words once
    the name of the element is taken out of them.
    """
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        groups.setdefault(_key(finding), []).append(finding)
    return tuple(Group(findings=tuple(group)) for group in groups.values())


def element_id(finding: Finding) -> str:
    """Return the last word of the element's path: the id of a feature ("a3"), else ""."""
    return finding.element.rpartition(".")[2]


def waiver_words(finding: Finding) -> str:
    """Return the reason of a waiver, and where it stands if not beside what it accepts."""
    at = finding.waived_at
    where = "" if at is None or at.path == finding.span.path else f" ({at.path}:{at.line})"
    return f"{finding.waived}{where}"


def times(group: Group) -> str:
    """Return how often a finding occurs and where, "" for one that occurs once."""
    if len(group.findings) == 1:
        return ""
    names = [element_id(f) or f"line {f.span.line}" for f in group.findings]
    names = list(dict.fromkeys(names))
    listed = ", ".join(printable(name) for name in names[:_PLACES_SHOWN])
    more = len(names) - _PLACES_SHOWN
    rest = f" and {more} more" if more > 0 else ""
    return f" ({len(group.findings)} times: {listed}{rest})"


def _key(f: Finding) -> tuple[str, ...]:
    waived = "" if f.waived is None else "w" + f.waived
    return (f.rule, f.severity, f.span.path, f.mark, waived, _words(f))


def _words(finding: Finding) -> str:
    name = element_id(finding)
    if not name:
        return finding.message
    return re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", "\0", finding.message)
