"""Run the rules: over each part, alone and on its machine, and over the set; then the waivers."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from translator.findings import Finding, Fit, Related
from translator.model import Placed
from translator.rules._beside import Terms, Under, apply_decisions
from translator.rules._bill import Bill, BillFacts, bill_findings, without_bill
from translator.rules._decisions import Decisions
from translator.rules._digest import Digest
from translator.rules._judged import OF_SET, Bench, Judged, checked, judge, weighed
from translator.rules._practice import Practice
from translator.rules._rule import Rule, Violation
from translator.rules._waive import waive

if TYPE_CHECKING:
    from translator.machines import Machine


class Checked(Struct, frozen=True, kw_only=True):
    """What the rules say about a set of parts.

    Attributes:
        findings: for each part, in the order given, its findings with waivers applied.
        digests: what the rules of the set saw of each part, in the same order.
        rules: names of the rules that ran on some part.
        not_applied: name of a rule that ran on none, and why.
        fits: for each part in turn, what each machine can make of it.
        remarks: what is to be said of decisions kept beside the parts.
        of_bill: what is to be said of marks of the bill that have no part.
    """

    findings: tuple[tuple[Finding, ...], ...]
    digests: tuple[Digest, ...]
    rules: tuple[str, ...]
    not_applied: tuple[tuple[str, str], ...] = ()
    fits: tuple[Fit, ...] = ()
    remarks: tuple[Finding, ...] = ()
    of_bill: tuple[Finding, ...] = ()


def run(
    parts: Sequence[Placed],
    rules: Sequence[Rule],
    *,
    practices: Sequence[Practice] | None = None,
    as_of: str | None = None,
    machines: "Sequence[Machine]" = (),
) -> Checked:
    """Run all rules over all parts.

    Args:
        parts: the set, in an order that does not depend on the machine.
        rules: the rules to run.
        practices: for each part what it is judged by; None for the default of all.
        as_of: the day by which dated waivers are judged (YYYY-MM-DD), or None.
        machines: machines that the parts may be made on; of each part the findings of the one
            that serves it best are told.
    """
    chosen = [Practice()] * len(parts) if practices is None else list(practices)
    which, benches = benched(chosen, rules, machines)
    judged = [judge(placed, benches[n]) for placed, n in zip(parts, which, strict=True)]
    under = [benches[number] for number in which]
    return together(judged, under, rules, as_of=as_of, otherwise=benches[0])


def benched(
    practices: Sequence[Practice], rules: Sequence[Rule], machines: "Sequence[Machine]"
) -> tuple[list[int], list[Bench]]:
    """Return for each practice the number of its bench, and the distinct benches, at least one."""
    distinct: list[Practice] = []
    which = []
    for practice in practices:
        if practice not in distinct:
            distinct.append(practice)
        which.append(distinct.index(practice))
    return which, [Bench.of(rules, practice, machines) for practice in distinct or [Practice()]]


def together(  # noqa: PLR0913 - what each part says, and what all come under
    judged: Sequence[Judged],
    under: Sequence[Bench],
    rules: Sequence[Rule],
    *,
    as_of: str | None = None,
    decisions: Sequence[tuple[Decisions, ...]] = (),
    otherwise: Bench | None = None,
    bill: Bill | None = None,
) -> Checked:
    """Run the rules of set and bill, then apply waivers: the parts' own, then those beside them.

    Args:
        judged: each part after the rules that look at it alone.
        under: for each part what it was judged by.
        rules: all rules of the run.
        as_of: the day by which dated waivers are judged (YYYY-MM-DD), or None.
        decisions: for each part the side files it comes under; empty for none at all. A part
            whose mark such a file names must be there itself.
        otherwise: what parts would be judged by, where there are none.
        bill: what the parts are held against.
    """
    otherwise = otherwise or Bench.of(rules, Practice(), ())
    if bill is None:
        *under, otherwise = without_bill([*under, otherwise], rules)
    told = tuple(replace(part.digest, number=number) for number, part in enumerate(judged))
    known = frozenset(rule.name for rule in rules)
    benches = list({id(bench): bench for bench in under}.values()) or [otherwise]
    of_set, without_part = _of_all(judged, told, rules, bill, [*under, benches[0]])
    findings = []
    for number, (part, bench) in enumerate(zip(judged, under, strict=True)):
        found = part.findings
        if number in of_set:
            found += weighed(of_set[number], bench.practice)
        if part.placed is not None and part.placed.part.waivers:
            found = waive(part.placed, found, known, as_of, idle=frozenset(bench.off))
        findings.append(found)
    checked_ = Checked(
        findings=tuple(findings),
        digests=told,
        rules=tuple(r.name for r in rules if any(r.name not in b.off for b in benches)),
        not_applied=tuple(
            (rule.name, benches[0].off[rule.name])
            for rule in rules
            if all(rule.name in bench.off for bench in benches)
        ),
        fits=tuple(fit for part in judged for fit in part.fits),
        of_bill=weighed(without_part, benches[0].practice),
    )
    return _decided(judged, under, checked_, decisions, Terms.of(rules, as_of))


def _decided(
    judged: Sequence[Judged],
    under: Sequence[Bench],
    told: Checked,
    decisions: Sequence[tuple[Decisions, ...]],
    terms: Terms,
) -> Checked:
    """Apply the decisions that are kept beside the parts, after those in the parts themselves."""
    files = tuple(dict.fromkeys(file for beside in decisions for file in beside))
    if not files:
        return told
    findings = list(told.findings)
    asked: list[tuple[int, Under]] = []
    for number, (part, bench, beside) in enumerate(zip(judged, under, decisions, strict=True)):
        if part.placed is not None and beside:
            it = Under(
                placed=part.placed,
                findings=list(findings[number]),
                idle=frozenset(bench.off),
                decisions=beside,
            )
            asked.append((number, it))
    remarks = tuple(apply_decisions([it for _, it in asked], files, terms))
    for number, it in asked:
        findings[number] = tuple(it.findings)
    return replace(told, findings=tuple(findings), remarks=remarks)


def _of_all(
    judged: Sequence[Judged],
    told: tuple[Digest, ...],
    rules: Sequence[Rule],
    bill: Bill | None,
    under: Sequence[Bench],
) -> tuple[dict[int, list[Finding]], list[Finding]]:
    """Return what the rules of set and bill say of each part, and of marks without a part.

    ``under`` holds the bench of each part, and at last that of marks without one.
    """
    found: list[tuple[int, Finding]] = [
        (violation.number, _found(rule, violation, judged))
        for rule, violation in _of_set(told, rules)
    ]
    nowhere = len(judged)
    if bill is not None:
        facts = BillFacts(bill, told, under[-1].practice)
        places = [part.mark_place for part in judged]
        of_bill = bill_findings(facts, rules, places)
        found += [(nowhere if owner is None else owner, finding) for owner, finding in of_bill]
    of_set: dict[int, list[Finding]] = {}
    for number, finding in found:
        if finding.rule not in under[number].off:
            of_set.setdefault(number, []).append(finding)
    return of_set, of_set.pop(nowhere, [])


def _of_set(told: tuple[Digest, ...], rules: Sequence[Rule]) -> Iterator[tuple[Rule, Violation]]:
    for rule in rules:
        if rule.scope == "set":
            yield from ((rule, violation) for violation in checked(rule, told))


def _found(rule: Rule, violation: Violation, judged: Sequence[Judged]) -> Finding:
    part = judged[violation.number]
    is_mark = violation.element == OF_SET
    related = (
        Related(span=judged[number].mark_place, message=word) for number, word in violation.others
    )
    return Finding(
        rule=rule.name,
        severity=violation.severity or rule.severity,
        message=violation.message,
        span=part.mark_place if is_mark else part.place,
        mark=part.mark,
        element=violation.element,
        value=violation.value,
        limit=violation.limit,
        unit=violation.unit,
        related=(*(part.mark_beyond if is_mark else ()), *related),
    )
