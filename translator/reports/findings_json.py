"""The report a program reads: JSON after ``schemas/findings.schema.json``."""

import math
from typing import Any, Final

from translator.findings import CAUTION, Finding, Severity, Verdict, count, in_order
from translator.json_text import json_text
from translator.reports._report import Report, ReportOptions
from translator.source import Span

FORMAT: Final = "backmark/findings"
VERSION: Final = "1.0"


def render(verdict: Verdict, _options: ReportOptions) -> str:
    """Return every finding whole, ungrouped, in the order of their places."""
    return json_text(
        {
            "format": FORMAT,
            "version": VERSION,
            "caution": CAUTION,
            "summary": _summary(verdict),
            "findings": [_finding(finding) for finding in in_order(verdict.findings)],
            "files": list(verdict.files),
            "not_ours": [{"path": path, "why": why} for path, why in verdict.not_ours],
            **_fits(verdict),
            "rules_run": list(verdict.rules_run),
            "rules_not_applicable": [
                {"rule": rule, "why": why} for rule, why in verdict.rules_not_applicable
            ],
            "practice": list(verdict.practice),
            "changed": [{"rule": rule, "how": how} for rule, how in verdict.changed],
        }
    )


def _fits(verdict: Verdict) -> dict[str, Any]:
    """Return what each machine can make of each part; nothing when no machine was asked about."""
    if not verdict.fits:
        return {}
    fits = [
        {
            "path": f.path,
            "mark": f.mark,
            "machine": f.machine,
            "verdict": f.verdict,
            **({"why": f.why} if f.why else {}),
        }
        for f in verdict.fits
    ]
    return {"machines": fits}


def _summary(verdict: Verdict) -> dict[str, int]:
    return {
        "files": len(verdict.files),
        "parts": verdict.parts,
        "errors": count(verdict.findings, Severity.ERROR),
        "warnings": count(verdict.findings, Severity.WARNING),
        "notes": count(verdict.findings, Severity.NOTE),
        "waived": sum(1 for finding in verdict.findings if finding.waived is not None),
    }


def _finding(f: Finding) -> dict[str, Any]:
    said: dict[str, Any] = {
        "rule": f.rule,
        "severity": str(f.severity),
        "message": f.message,
        **_place(f.span),
        "mark": f.mark,
        "element": f.element,
    }
    figures = {"value": f.value, "limit": f.limit}
    said |= {name: n for name, n in figures.items() if n is not None and math.isfinite(n)}
    if "value" in said or "limit" in said:
        said["unit"] = f.unit
    if f.related:
        said["related"] = [{"message": r.message, **_place(r.span)} for r in f.related]
    if f.waived is not None:
        said["waived"] = f.waived
    if f.waived_at is not None:
        said["waived_at"] = _place(f.waived_at)
    return said


def _place(span: Span) -> dict[str, Any]:
    return {
        "path": span.path,
        "line": span.line,
        "column": span.column,
        "end_line": span.end_line,
        "end_column": span.end_column,
    }


REPORT: Final = Report(
    name="json",
    title="findings as JSON",
    media_type="application/json",
    render=render,
)
