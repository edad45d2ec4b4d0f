"""Run the rules: over each part, alone and on its machine, and over the set; then the waivers."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from translator.findings import Finding, Fit, Related, Severity
from translator.model import Placed, lines_beyond, place_of
from translator.rules._beside import Terms, Under, apply_decisions
from translator.rules._decisions import Decisions
from translator.rules._digest import Digest, digests
from translator.rules._facts import Facts
from translator.rules._machines import MachineFacts, best, each_capability, fits
from translator.rules._practice import Practice
from translator.rules._rule import Rule, Violation
from translator.rules._waive import waive

if TYPE_CHECKING:
    from translator.machines import Capability, Machine


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What the rules say about a set of parts.

    Attributes:
        findings: for each part, in the order given, its findings with waivers applied.
        digests: what the rules of the set saw of each part, in the same order.
        rules: names of the rules that ran on some part.
        not_applied: name of a rule that ran on none, and why.
        fits: for each part in turn, what each machine can make of it.
        idle: for each part the names of the rules that did not run on it.
        remarks: what is to be said of decisions kept beside the parts.
    """

    findings: tuple[tuple[Finding, ...], ...]
    digests: tuple[Digest, ...]
    rules: tuple[str, ...]
    not_applied: tuple[tuple[str, str], ...] = ()
    fits: tuple[Fit, ...] = ()
    idle: tuple[frozenset[str], ...] = ()
    remarks: tuple[Finding, ...] = ()


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
    which, distinct = _grouped(chosen)
    off = [_off(rules, practice, machines) for practice in distinct]
    capabilities = tuple(each_capability(machines, placed) for placed in parts)
    said: list[list[Finding]] = []
    for placed, practice, group, each in zip(parts, chosen, which, capabilities, strict=True):
        applied = [rule for rule in rules if rule.name not in off[group]]
        facts = Facts(placed.part, practice)
        alone = (*_of_part(facts, applied), *_of_machine(facts, machines, each, applied))
        said.append([_found(rule, violation, placed, parts) for rule, violation in alone])
    told = digests(parts)
    for rule, violation in _of_set(told, rules):
        number = violation.number
        if rule.name not in off[which[number]]:
            said[number].append(_found(rule, violation, parts[number], parts))
    known = frozenset(rule.name for rule in rules)
    return Checked(
        findings=tuple(
            waive(placed, _weighed(found, practice), known, as_of, idle=frozenset(off[group]))
            for placed, found, practice, group in zip(parts, said, chosen, which, strict=True)
        ),
        idle=tuple(frozenset(off[group]) for group in which),
        digests=told,
        rules=tuple(rule.name for rule in rules if any(rule.name not in why for why in off)),
        not_applied=tuple(
            (rule.name, off[0][rule.name]) for rule in rules if all(rule.name in why for why in off)
        ),
        fits=fits(parts, capabilities),
    )


def decide(
    parts: Sequence[Placed],
    checked: Checked,
    beside: Sequence[tuple[Decisions, ...]],
    terms: Terms,
) -> Checked:
    """Apply the decisions that are kept beside the parts, after those in the parts themselves.

    Args:
        parts: the set, as it was run.
        checked: what the rules say about it.
        beside: for each part the side files it comes under.
        terms: what waivers are judged by.
    """
    under = [
        Under(placed=placed, findings=list(found), idle=idle, decisions=files)
        for placed, found, idle, files in zip(
            parts, checked.findings, checked.idle, beside, strict=True
        )
    ]
    decisions = tuple(dict.fromkeys(file for files in beside for file in files))
    remarks = tuple(apply_decisions(under, decisions, terms))
    findings = tuple(tuple(part.findings) for part in under)
    return replace(checked, findings=findings, remarks=remarks)


def _grouped(practices: Sequence[Practice]) -> tuple[list[int], list[Practice]]:
    """Return for each practice its number among the distinct ones, and these, at least one."""
    distinct: list[Practice] = []
    which = []
    for practice in practices:
        if practice not in distinct:
            distinct.append(practice)
        which.append(distinct.index(practice))
    return which, distinct or [Practice()]


def _off(
    rules: Sequence[Rule], practice: Practice, machines: "Sequence[Machine]"
) -> Mapping[str, str]:
    """Return the rules that a practice, or the want of a machine, leaves out, and why."""
    off = {}
    for rule in rules:
        is_off = rule.name in practice.severities and practice.severities[rule.name] is None
        why = "switched off in the settings" if is_off else rule.applies(practice)
        if rule.scope == "machine" and not machines:
            why = why or "no machine is named"
        if why:
            off[rule.name] = why
    return off


def _of_set(told: tuple[Digest, ...], rules: Sequence[Rule]) -> Iterator[tuple[Rule, Violation]]:
    for rule in rules:
        if rule.scope == "set":
            yield from ((rule, violation) for violation in _checked(rule, told))


def _of_part(facts: Facts, rules: Sequence[Rule]) -> Iterator[tuple[Rule, Violation]]:
    for rule in rules:
        if rule.scope == "part":
            yield from ((rule, violation) for violation in _checked(rule, facts))


def _of_machine(
    facts: Facts,
    machines: "Sequence[Machine]",
    capabilities: "Sequence[Capability]",
    rules: Sequence[Rule],
) -> Iterator[tuple[Rule, Violation]]:
    if not machines:
        return
    number = best(capabilities)
    it = MachineFacts(facts=facts, machine=machines[number], capability=capabilities[number])
    for rule in rules:
        if rule.scope == "machine":
            yield from ((rule, violation) for violation in _checked(rule, it))


def _weighed(found: Sequence[Finding], practice: Practice) -> tuple[Finding, ...]:
    """Return findings with the severities that the settings give their rules."""
    wished: dict[str, Severity] = {
        name: weight for name, weight in practice.severities.items() if weight is not None
    }
    return tuple(
        replace(finding, severity=wished.get(finding.rule, finding.severity)) for finding in found
    )


def _checked(
    rule: Rule, subject: Facts | MachineFacts | tuple[object, ...]
) -> tuple[Violation, ...]:
    try:
        return tuple(rule.check(subject))
    except Exception as error:
        error.add_note(f"in the rule {rule.name}")
        raise


def _found(rule: Rule, violation: Violation, placed: Placed, parts: Sequence[Placed]) -> Finding:
    related = [
        Related(span=place_of(placed, element), message=word) for element, word in violation.related
    ]
    related += [
        Related(span=place_of(parts[number], "mark"), message=word)
        for number, word in violation.others
    ]
    return Finding(
        rule=rule.name,
        severity=violation.severity or rule.severity,
        message=violation.message,
        span=place_of(placed, violation.element),
        mark=placed.part.mark,
        element=violation.element,
        value=violation.value,
        limit=violation.limit,
        unit=violation.unit,
        related=(*lines_beyond(placed, violation.element), *related),
    )
