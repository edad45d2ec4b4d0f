"""The report a person reads at a terminal: place, sentence, source line with a mark."""

from collections import Counter
from collections.abc import Sequence
from itertools import groupby
from typing import Final

from translator.findings import CAUTION, Finding, Severity, Verdict, count, in_order
from translator.reports._excerpt import excerpt
from translator.reports._groups import Group, grouped, times, waiver_words
from translator.reports._report import Report, ReportOptions
from translator.source import decode, lines_of, printable

_COLOURS: Final = {Severity.ERROR: "1;31", Severity.WARNING: "33", Severity.NOTE: "36"}
_RELATED_SHOWN: Final = 5
_RULES_LISTED: Final = 8
_NOTES_SHOWN: Final = 12
"""So many notes of one rule are told in full; errors and warnings always are."""


def render(verdict: Verdict, options: ReportOptions) -> str:
    """Return findings in the order of their places, then what was looked at, then a caution.

    A finding is one line ``path:line:column: severity: message [rule]``, followed by the
    source line with carets under the place. Equal findings of one part are one line with a
    count. Nothing that a file holds can reach the terminal as a control character.
    """
    lines: list[str] = []
    notes: Counter[str] = Counter()
    for path, found in groupby(in_order(verdict.findings), key=lambda f: f.span.path):
        # Only the lines of one file are held at a time, and only if they are shown.
        source: list[str] | None = None
        for group in grouped(found):
            first = group.findings[0]
            if first.severity is Severity.NOTE:
                notes[first.rule] += 1
                if notes[first.rule] > _NOTES_SHOWN:
                    continue
            source = _lines(path, options) if source is None else source
            lines += _group_lines(group, source, options)
    lines += _more_notes(notes)
    lines += _fits(verdict)
    lines += _not_ours(verdict)
    lines += _summary(verdict)
    if verdict.files:
        lines.append(CAUTION)
    return "\n".join(lines) + "\n"


def _lines(path: str, options: ReportOptions) -> list[str]:
    data = options.source(path)
    return [] if data is None else lines_of(decode(data)[0])


def _more_notes(notes: Counter[str]) -> list[str]:
    """Say how many notes were left out: of a large delivery nobody reads the same one again."""
    more = {rule: number - _NOTES_SHOWN for rule, number in sorted(notes.items())}
    told = [f"{number} of {printable(rule)}" for rule, number in more.items() if number > 0]
    if not told:
        return []
    return [f"More notes of the same kinds: {', '.join(told)} (--format json lists all)."]


def _group_lines(group: Group, source: list[str], options: ReportOptions) -> list[str]:
    first = group.findings[0]
    word = f"waived {first.severity}" if first.waived is not None else str(first.severity)
    colour = "2" if first.waived is not None else _COLOURS[first.severity]
    head = f"{_place(first)}: {_painted(word, colour, options)}: {printable(first.message)}"
    lines = [f"{head} [{printable(first.rule)}]{times(group)}"]
    line = excerpt(first.span, source, options.width)
    if line is not None:
        lines += [line[0], _painted(line[1], colour, options)]
    if first.waived is not None:
        lines.append(f"    waived: {printable(waiver_words(first))}")
    for related in first.related[:_RELATED_SHOWN]:
        at = related.span
        place = f"{printable(at.path)}:{at.line}:{at.column}"
        lines.append(f"    see {place}: {printable(related.message)}")
    more = len(first.related) - _RELATED_SHOWN
    if more > 0:
        lines.append(f"    and {_many(more, 'more place')} (--format json lists all)")
    return lines


def _place(finding: Finding) -> str:
    span = finding.span
    return f"{printable(span.path)}:{span.line}:{span.column}"


def _painted(text: str, code: str, options: ReportOptions) -> str:
    return f"\x1b[{code}m{text}\x1b[0m" if options.colour else text


def _fits(verdict: Verdict) -> list[str]:
    """Return the table of parts and machines, its columns as wide as what stands in them."""
    if not verdict.fits:
        return []
    rows = [("mark", "machine", "verdict", "first reason, or what is left to do")]
    rows += [
        (printable(f.mark), printable(f.machine), f.verdict, printable(f.why)) for f in verdict.fits
    ]
    wide = [max(len(row[column]) for row in rows) for column in range(3)]
    return ["  ".join((*map(str.ljust, row[:3], wide), row[3])).rstrip() for row in rows]


def _not_ours(verdict: Verdict) -> list[str]:
    return [
        f"{printable(path)}: not for this tool: {printable(why)}"
        for path, why in sorted(verdict.not_ours)
    ]


def _summary(verdict: Verdict) -> list[str]:
    if not verdict.files:
        return [f"{_counts(verdict)}; no file was read."]
    seen = f"in {_many(verdict.parts, 'part')} of {_many(len(verdict.files), 'file')}"
    rules = f"{_many(len(verdict.rules_run), 'rule')} applied"
    lines = [f"{_counts(verdict)} {seen}; {rules}."]
    reasons: dict[str, list[str]] = {}
    for rule, why in verdict.rules_not_applicable:
        reasons.setdefault(why, []).append(rule)
    lines += [
        f"Not applied ({printable(why)}): {_listed(rules)}." for why, rules in reasons.items()
    ]
    lines += [f"Practice {printable(words)}." for words in verdict.practice]
    lines += [
        f"Changed by the settings: {printable(rule)} is {printable(how)}."
        for rule, how in verdict.changed
    ]
    return lines


def _counts(verdict: Verdict) -> str:
    pieces = [
        _many(number, severity)
        for severity in Severity
        if (number := count(verdict.findings, severity))
    ]
    waived = sum(1 for finding in verdict.findings if finding.waived is not None)
    pieces += [f"{waived} waived"] if waived else []
    return ", ".join(pieces) or "No findings"


def _listed(names: Sequence[str]) -> str:
    """Return rule names, or only their number where a list would bury what was found."""
    if len(names) > _RULES_LISTED:
        return _many(len(names), "rule")
    return ", ".join(printable(name) for name in names)


def _many(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


REPORT: Final = Report(
    name="text", title="text for a person", media_type="text/plain", render=render
)
