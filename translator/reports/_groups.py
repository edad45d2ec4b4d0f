"""Equal findings, said once with a count."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from translator.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
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


def _key(f: Finding) -> tuple[str, ...]:
    waived = "" if f.waived is None else "w" + f.waived
    return (f.rule, f.severity, f.span.path, f.mark, waived, _words(f))


def _words(finding: Finding) -> str:
    name = element_id(finding)
    if not name:
        return finding.message
    return re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", "\0", finding.message)
