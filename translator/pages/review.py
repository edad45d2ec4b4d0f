"""The review page: a delivery on one page, each fault shown on a picture of its leg.

One file that loads nothing and works from a file path. What every reader needs stands in the
markup; the parts are data that the page's script (``data/review.js``) lays out, each drawn when
it comes into view, so that thousands of them stay usable.
"""

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from msgspec import Struct, field

from translator.conventions import Conventions
from translator.findings import CAUTION, Fit, Severity, Verdict, count
from translator.model import Placed
from translator.pages._html import data_block, escaped, page
from translator.pages._issues import Issue, document, issues
from translator.pages._sheets import sheet
from translator.pages._tables import joined, many, table
from translator.pages._words import both, section_words
from translator.reports import RuleInfo

_UNKNOWN: Final = "not at hand"
_OPEN_ROWS: Final = 60
"""A table of more rows is folded until somebody opens it."""

_VERDICTS: Final = ("complete", "with second work", "not")


class Review(Struct, frozen=True, kw_only=True):
    """What goes on the page.

    Attributes:
        verdict: of the delivery.
        parts: all parts that could be read, in the verdict's order.
        refused: for each part, why it may not be handed on; "" when it may.
        sources: path of every input, settings file and machine profile -> its bytes.
        conventions: path of an input -> the settings of the detailer format it was given.
        rules: all rules there are.
    """

    verdict: Verdict
    parts: tuple[Placed, ...]
    refused: tuple[str, ...]
    sources: Mapping[str, bytes] = field(default_factory=dict)
    conventions: Mapping[str, Conventions] = field(default_factory=dict)
    rules: tuple[RuleInfo, ...] = ()


def render(review: Review) -> str:
    """Return the page; the same bytes for the same delivery."""
    own, rest = issues(review.verdict, review.parts, review.sources)
    return page(
        title=f"Backmark review: {many(review.verdict.parts, 'part')}",
        body=(*_body(review), *_data(review, own, rest)),
        styles=("picture.css", "review.css"),
        scripts=("review.js",),
    )


def _body(review: Review) -> Iterator[str]:
    verdict = review.verdict
    seen = f"{many(verdict.parts, 'part')} of {many(len(verdict.files), 'file')}"
    yield '<a class="skip" href="#parts">Skip to the parts</a>\n'
    yield f'<header class="top"><h1>Review of {escaped(seen)}</h1>\n'
    yield f'<p class="caution"><strong>Caution.</strong> {escaped(CAUTION)}</p></header>\n'
    yield '<div class="columns"><nav id="side" aria-label="Filter and parts"></nav>\n'
    yield '<main id="main">\n'
    yield '<noscript><p class="caution">The parts are drawn by a script; allow scripts for this'
    yield " file to see them.</p></noscript>\n"
    yield from _summary(review)
    yield '<section id="parts" aria-labelledby="parts-head" tabindex="-1">'
    yield '<h2 id="parts-head">Parts</h2></section>\n'
    yield from _machines(review)
    yield from _judged_by(review)
    yield from _rules(review)
    yield from _files(review)
    yield "</main></div>\n"


def _summary(review: Review) -> Iterator[str]:
    verdict = review.verdict
    waived = [finding for finding in verdict.findings if finding.waived is not None]
    yield '<section aria-labelledby="sum-head"><h2 id="sum-head">Summary</h2>\n<ul class="counts">'
    for severity in Severity:
        number = count(verdict.findings, severity)
        words = joined(number, str(severity))
        yield f'<li class="{severity}"><b>{number}</b> <span>{words}</span></li>'
    yield f'<li class="waived"><b>{len(waived)}</b> <span>waived</span></li>'
    held = sum(1 for why in review.refused if why)
    yield f"<li><b>{len(review.refused) - held}</b> <span>may be handed on</span></li>"
    yield f"<li><b>{held}</b> <span>held back</span></li></ul>\n"
    rows = _by_rule(verdict)
    if rows:
        head = ("Fault", "Weighs", "How often", "Parts")
        yield table("Findings by fault", head, rows, numeric=(2, 3))
    totals = _by_machine(verdict)
    if totals:
        yield table("Parts by machine", ("Machine", *_VERDICTS), totals, numeric=(1, 2, 3))
    yield "</section>\n"


def _by_machine(verdict: Verdict) -> list[list[str]]:
    found = Counter((fit.machine, fit.verdict) for fit in verdict.fits)
    names = dict.fromkeys(fit.machine for fit in verdict.fits)
    return [[name, *(str(found[name, answer]) for answer in _VERDICTS)] for name in names]


def _by_rule(verdict: Verdict) -> list[list[str]]:
    counts: dict[tuple[int, str, str], list[tuple[str, str]]] = {}
    for finding in verdict.findings:
        kind = "waived" if finding.waived is not None else str(finding.severity)
        rank = finding.severity.rank + (3 if finding.waived is not None else 0)
        key = (rank, finding.rule, kind)
        counts.setdefault(key, []).append((finding.span.path, finding.mark))
    return [
        [rule, kind, str(len(places)), str(len({place for place in places if place[1]}))]
        for (_, rule, kind), places in sorted(counts.items())
    ]


def _machines(review: Review) -> Iterator[str]:
    fits = review.verdict.fits
    if not fits:
        return
    names = tuple(dict.fromkeys(fit.machine for fit in fits))
    yield '<section aria-labelledby="mach-head"><h2 id="mach-head">Machines</h2>\n'
    size = len(names)
    rows = [
        [fits[at].mark, *(_fit_words(fit) for fit in fits[at : at + size])]
        for at in range(0, len(fits), size)
    ]
    yield table(
        "What each can make of each part", ("Part", *names), rows, fold=len(rows) > _OPEN_ROWS
    )
    yield "</section>\n"


def _fit_words(fit: Fit) -> str:
    return f"{fit.verdict}: {fit.why}" if fit.why else fit.verdict


def _judged_by(review: Review) -> Iterator[str]:
    verdict = review.verdict
    yield '<section aria-labelledby="by-head"><h2 id="by-head">Judged by</h2>\n<ul>'
    yield from (f"<li>{escaped(words)}</li>" for words in verdict.practice)
    for rule, how in verdict.changed:
        yield f"<li>Set by the shop: {escaped(rule)} is {escaped(how)}</li>"
    for words, number in _settings(review.conventions).items():
        yield f"<li>{escaped(words)} ({many(number, 'file')})</li>"
    yield "</ul></section>\n"


def _settings(conventions: Mapping[str, Conventions]) -> Mapping[str, int]:
    """Return what NC files were read with, where it was not left to the evidence."""
    found: dict[str, int] = {}
    usual = Conventions()
    for own in conventions.values():
        words = ", ".join(
            f"{name} = {getattr(own, name)}"
            for name in own.__struct_fields__
            if getattr(own, name) != getattr(usual, name)
        )
        if words:
            text = f"NC settings given: {words}"
            found[text] = found.get(text, 0) + 1
    return found


def _rules(review: Review) -> Iterator[str]:
    verdict = review.verdict
    known = {rule.name: rule for rule in review.rules}

    def row(name: str, what: str) -> list[str]:
        rule = known.get(name)
        return [name, rule.title if rule else "", rule.reference if rule else "", what]

    rows = [row(name, "applied") for name in verdict.rules_run]
    rows += [row(name, f"not applied: {why}") for name, why in verdict.rules_not_applicable]
    yield '<section aria-labelledby="rules-head"><h2 id="rules-head">Rules</h2>\n'
    yield "<p>A clean part is one in which the rules that were applied found nothing.</p>\n"
    head = ("Rule", "Fault", "Reference", "Applied")
    yield table(
        f"{many(len(verdict.rules_run), 'rule')} applied, {len(verdict.rules_not_applicable)} not",
        head,
        rows,
        fold=True,
    )
    yield "</section>\n"


def _files(review: Review) -> Iterator[str]:
    strange = dict(review.verdict.not_ours)
    others = [path for path in review.sources if path not in review.verdict.files]
    rows = []
    for path in (*review.verdict.files, *sorted(others)):
        data = review.sources.get(path)
        digest = _UNKNOWN if data is None else hashlib.sha256(data).hexdigest()
        rows.append([path, digest, strange.get(path, "")])
    yield '<section aria-labelledby="files-head"><h2 id="files-head">Files</h2>\n'
    head = ("File", "SHA-256", "Remark")
    title = f"{many(len(rows), 'file')} read, inputs and settings"
    yield table(title, head, rows, code=(0, 1), fold=len(rows) > _OPEN_ROWS)
    yield "</section>\n"


def _data(review: Review, own: Sequence[Sequence[Issue]], rest: Sequence[Issue]) -> Iterator[str]:
    """Yield the blocks of data: what the filter needs in one, each part in one of its own."""
    fits: dict[tuple[str, str], list[Fit]] = {}
    for fit in review.verdict.fits:
        fits.setdefault((fit.path, fit.mark), []).append(fit)
    triples = tuple(zip(review.parts, own, review.refused, strict=True))
    parts = [_entry(placed, found, why) for placed, found, why in triples]
    said = {issue.first.rule for found in (*own, rest) for issue in found}
    yield data_block(
        "index",
        {
            "parts": parts,
            "rest": [document(issue) for issue in rest],
            "rules": {
                rule.name: {"title": rule.title, "reference": rule.reference, "text": rule.text}
                for rule in review.rules
                if rule.name in said
            },
            "caution": CAUTION,
        },
    )
    for index, (placed, found, why) in enumerate(triples):
        key = (placed.places[""].path, placed.part.mark)
        yield data_block(f"data-{index}", sheet(placed, found, fits.get(key, []), why))


def _entry(placed: Placed, found: Sequence[Issue], why: str) -> dict[str, Any]:
    part = placed.part
    pieces = f"{part.quantity} {'pc' if part.quantity == 1 else 'pcs'}"
    return {
        "mark": part.mark,
        "title": part.title or "",
        "line": f"{section_words(part)}, {both(part.length_mm, part)}, {pieces}",
        "words": " ".join(
            word
            for word in (placed.places[""].path, part.grade, part.order, part.drawing, part.finish)
            if word
        ),
        "held": bool(why),
        "issues": [document(issue) for issue in found],
    }
