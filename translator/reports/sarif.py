"""The report for code hosts and viewers: SARIF 2.1.0 (OASIS Standard).

Columns are counted in UTF-16 code units, as most viewers count them; where the bytes of a file
are no longer at hand, as characters.
"""

import hashlib
import math
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from msgspec import Struct
from msgspec.structs import asdict

from translator.findings import CAUTION, Finding, Severity, Verdict, in_order
from translator.json_text import json_text
from translator.reports._report import Report, ReportOptions, RuleInfo
from translator.reports._uri import uri_of
from translator.source import Span, decode, lines_of, printable, whole_file

VERSION: Final = "2.1.0"
SCHEMA: Final = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json"
_STDIN: Final = "-"
_LINK: Final = re.compile(r"\[(?=[^\[\]]*\]\()")
_FINGERPRINT: Final = "backmarkFinding/v1"
_ENCODINGS: Final = {"utf-8": "UTF-8", "windows-1252": "windows-1252"}


class _Book(Struct, frozen=True, kw_only=True):
    """What results refer to by number, and the lines of the sources.

    Attributes:
        rules: id of a rule -> its number.
        files: path of a file -> its number.
        lines: path of a file whose bytes are at hand -> its lines.
    """

    rules: Mapping[str, int]
    files: Mapping[str, int]
    lines: Mapping[str, Sequence[str]]


def render(verdict: Verdict, options: ReportOptions) -> str:
    """Return one run with every finding, the waived ones as suppressed results."""
    findings = in_order(verdict.findings)
    files = tuple(dict.fromkeys((*verdict.files, *_paths(verdict, findings))))
    texts = {path: decode(data) for path in files if (data := options.source(path)) is not None}
    rules = _rules(verdict, findings, options.rules)
    book = _Book(
        rules={rule["id"]: number for number, rule in enumerate(rules)},
        files={path: number for number, path in enumerate(files)},
        lines={path: lines_of(text) for path, (text, _) in texts.items()},
    )
    encodings = {path: encoding for path, (_, encoding) in texts.items()}
    driver = {"name": "Backmark", "fullDescription": _message(CAUTION), "rules": rules}
    run = {
        "tool": {"driver": driver},
        "columnKind": "utf16CodeUnits",
        "newlineSequences": ["\r\n", "\n", "\r"],
        "invocations": [_invocation(verdict, book)],
        "artifacts": [_artifact(path, encodings.get(path)) for path in files],
        "results": list(_results(findings, book)),
        "properties": _about(verdict),
    }
    return json_text({"$schema": SCHEMA, "version": VERSION, "runs": [run]})


def _about(verdict: Verdict) -> dict[str, Any]:
    """Return what a run says beside its results: a property bag may hold anything."""
    said = {
        "practice": list(verdict.practice),
        "changed": [{"rule": rule, "how": how} for rule, how in verdict.changed],
        "machines": [asdict(fit) for fit in verdict.fits],
    }
    filled = {name: value for name, value in said.items() if value}
    return {"caution": CAUTION, "parts": verdict.parts, **filled}


def _paths(verdict: Verdict, findings: Iterable[Finding]) -> Iterable[str]:
    yield from (path for path, _ in verdict.not_ours)
    for finding in findings:
        yield finding.span.path
        yield from (related.span.path for related in finding.related)
        if finding.waived_at is not None:
            yield finding.waived_at.path


def _rules(
    verdict: Verdict, findings: Iterable[Finding], known: Iterable[RuleInfo]
) -> list[dict[str, Any]]:
    """Return the rules that ran, did not apply or found something.

    What a reader or the settings found has an entry too: its id, and the heaviest weight it
    has here.
    """
    heaviest: dict[str, Severity] = {}
    for finding in findings:
        other = heaviest.setdefault(finding.rule, finding.severity)
        heaviest[finding.rule] = min(finding.severity, other, key=lambda s: s.rank)
    named = {*verdict.rules_run, *(rule for rule, _ in verdict.rules_not_applicable)}
    described = {info.name: info for info in known}
    return [
        _described(described[name]) if name in described else _bare(name, heaviest.get(name))
        for name in sorted({*named, *heaviest})
    ]


def _described(info: RuleInfo) -> dict[str, Any]:
    text = "\n".join(_message(line)["text"] for line in (info.text or info.title).split("\n"))
    return {
        "id": info.name,
        "shortDescription": _message(info.title),
        "fullDescription": {"text": " ".join(text.partition("\n\n")[0].split())},
        "help": {"text": text, "markdown": text},
        "defaultConfiguration": {"level": str(info.severity)},
        "properties": {"reference": info.reference},
    }


def _bare(name: str, severity: Severity | None) -> dict[str, Any]:
    rule: dict[str, Any] = {"id": name, "shortDescription": _message(name.replace("-", " "))}
    if severity is not None:
        rule["defaultConfiguration"] = {"level": str(severity)}
    return rule


def _invocation(verdict: Verdict, book: _Book) -> dict[str, Any]:
    """Tell that the run went through, which rules did not apply, and what was not read."""
    notes: list[dict[str, Any]] = [
        {
            "level": "note",
            "message": _message(f"{rule} was not applied: {why}"),
            "associatedRule": {"id": rule, "index": book.rules[rule]},
        }
        for rule, why in verdict.rules_not_applicable
    ]
    notes += [
        {
            "level": "note",
            "message": _message(f"not for this tool: {why}"),
            "locations": [{"physicalLocation": _physical(whole_file(path), book)}],
        }
        for path, why in sorted(verdict.not_ours)
    ]
    said: dict[str, Any] = {"executionSuccessful": True}
    if notes:
        said["toolExecutionNotifications"] = notes
    return said


def _artifact(path: str, encoding: str | None) -> dict[str, Any]:
    artifact: dict[str, Any] = {"location": {"uri": uri_of(path)}}
    if path == _STDIN:
        artifact["description"] = _message("standard input")
    if encoding is not None:
        artifact["encoding"] = _ENCODINGS[encoding]
    return artifact


def _results(findings: Iterable[Finding], book: _Book) -> Iterable[dict[str, Any]]:
    seen: dict[tuple[str, ...], int] = {}
    for finding in findings:
        key = (finding.rule, finding.span.path, finding.mark, finding.element)
        seen[key] = seen.get(key, 0) + 1
        yield _result(finding, _fingerprint(key, seen[key]), book)


def _result(f: Finding, fingerprint: str, book: _Book) -> dict[str, Any]:
    result: dict[str, Any] = {
        "ruleId": f.rule,
        "ruleIndex": book.rules[f.rule],
        "level": str(f.severity),
        "message": _message(f.message),
        "locations": [_location(f, book)],
    }
    if f.related:
        result["relatedLocations"] = [
            {
                "id": number,
                "physicalLocation": _physical(related.span, book),
                "message": _message(related.message),
            }
            for number, related in enumerate(f.related)
        ]
    result["partialFingerprints"] = {_FINGERPRINT: fingerprint}
    if f.waived is not None:
        result["suppressions"] = [_suppression(f, f.waived, book)]
    if properties := _properties(f):
        result["properties"] = properties
    return result


def _location(f: Finding, book: _Book) -> dict[str, Any]:
    location: dict[str, Any] = {"physicalLocation": _physical(f.span, book)}
    if f.mark:
        name = ".".join(filter(None, (f.mark, f.element)))
        location["logicalLocations"] = [{"fullyQualifiedName": name, "kind": "part"}]
    return location


def _suppression(f: Finding, reason: str, book: _Book) -> dict[str, Any]:
    """Tell a waiver in the part's own file from one kept elsewhere."""
    is_inside = f.waived_at is None or f.waived_at.path == f.span.path
    said: dict[str, Any] = {
        "kind": "inSource" if is_inside else "external",
        "status": "accepted",
        "justification": printable(reason),
    }
    if f.waived_at is not None:
        said["location"] = {"physicalLocation": _physical(f.waived_at, book)}
    return said


def _properties(f: Finding) -> dict[str, Any]:
    said: dict[str, Any] = {"mark": f.mark, "element": f.element}
    said = {name: text for name, text in said.items() if text}
    figures = {"value": f.value, "limit": f.limit}
    numbers = {name: n for name, n in figures.items() if n is not None and math.isfinite(n)}
    return {**said, **numbers, **({"unit": f.unit} if numbers and f.unit else {})}


def _fingerprint(key: tuple[str, ...], occurrence: int) -> str:
    """Return what stays the same when lines move and figures change."""
    text = "\0".join((*key, str(occurrence)))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:32]


def _physical(span: Span, book: _Book) -> dict[str, Any]:
    said: dict[str, Any] = {
        "artifactLocation": {"uri": uri_of(span.path), "index": book.files[span.path]}
    }
    if span != whole_file(span.path) and span.line >= 1:
        said["region"] = _region(span, book.lines.get(span.path, ()))
    return said


def _region(span: Span, lines: Sequence[str]) -> dict[str, int]:
    start = _column(lines, span.line, span.column)
    region = {"startLine": span.line, "startColumn": start}
    if (span.end_line, span.end_column) >= (span.line, span.column):
        end = _column(lines, span.end_line, span.end_column)
        region |= {"endLine": span.end_line, "endColumn": end}
    return region


def _column(lines: Sequence[str], line: int, column: int) -> int:
    """Turn a column in characters into one in UTF-16 code units, both counted from 1."""
    column = max(column, 1)
    if not 1 <= line <= len(lines):
        return column
    before = lines[line - 1][: column - 1]
    return column + sum(1 for character in before if ord(character) > 0xFFFF)  # noqa: PLR2004


def _message(text: str) -> dict[str, str]:
    """Return a message that says just this text.

    Braces would be places to fill in and are doubled; square brackets before round ones would
    be a link (SARIF 2.1.0 3.11.5 and 3.11.6).
    """
    plain = printable(text).replace("{", "{{").replace("}", "}}")
    return {"text": _LINK.sub(r"\\[", plain)}


REPORT: Final = Report(
    name="sarif",
    title="findings as SARIF 2.1.0",
    media_type="application/sarif+json",
    render=render,
)
