"""Run the rules: over each part, over the set, then apply the waivers once."""

from collections.abc import Sequence
from dataclasses import dataclass

from translator.findings import Finding, Related
from translator.model import Placed, place_of
from translator.rules._digest import Digest, digest
from translator.rules._facts import Facts
from translator.rules._rule import Rule, Violation
from translator.rules._waive import waive


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What the rules say about a set of parts.

    Attributes:
        findings: for each part, in the order given, its findings with waivers applied.
        digests: what the rules of the set saw of each part, in the same order.
        rules: names of the rules that ran.
    """

    findings: tuple[tuple[Finding, ...], ...]
    digests: tuple[Digest, ...]
    rules: tuple[str, ...]


def run(parts: Sequence[Placed], rules: Sequence[Rule], *, as_of: str | None = None) -> Checked:
    """Run all rules over all parts.

    Args:
        parts: the set, in an order that does not depend on the machine.
        rules: the rules to run.
        as_of: the day by which dated waivers are judged (YYYY-MM-DD), or None.
    """
    said: list[list[Finding]] = [[] for _ in parts]
    own = [rule for rule in rules if rule.scope == "part"]
    for number, placed in enumerate(parts):
        facts = Facts(placed.part)
        for rule in own:
            said[number].extend(_found(rule, v, placed, parts) for v in _checked(rule, facts))
    digests = tuple(digest(number, placed) for number, placed in enumerate(parts))
    for rule in rules:
        if rule.scope == "set":
            for violation in _checked(rule, digests):
                placed = parts[violation.number]
                said[violation.number].append(_found(rule, violation, placed, parts))
    known = frozenset(rule.name for rule in rules)
    return Checked(
        findings=tuple(
            waive(placed, found, known, as_of) for placed, found in zip(parts, said, strict=True)
        ),
        digests=digests,
        rules=tuple(rule.name for rule in rules),
    )


def _checked(rule: Rule, subject: Facts | tuple[object, ...]) -> tuple[Violation, ...]:
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
        related=tuple(related),
    )
