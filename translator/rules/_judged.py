"""One part after the rules that look at it alone: what the set, and the waivers, still need."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final

from msgspec import Struct
from msgspec.structs import replace

from translator.findings import Finding, Fit, Related, Severity
from translator.model import Placed, lines_beyond, place_of
from translator.rules._digest import Digest, digest
from translator.rules._facts import Facts
from translator.rules._machines import MachineFacts, best, each_capability, fits
from translator.rules._practice import Practice
from translator.rules._rule import Rule, Violation
from translator.source import Span

if TYPE_CHECKING:
    from translator.machines import Machine

OF_SET: Final = "mark"
"""The element that rules of a set speak of: of a part they see no more than what is told of it."""


class Judged(Struct, frozen=True, kw_only=True):
    """One part after the rules of a part and of a machine.

    It is small: a delivery of thousands of parts is held in these, and one travels between
    processes and into the cache.

    Attributes:
        digest: what rules of the set see of it, its number 0 until it has a place in the set.
        place: of the part as a whole.
        mark_place: of its mark.
        mark_beyond: further lines of its mark.
        findings: what the rules say, with the weights of the settings, before any waiver.
        fits: what each machine can make of it.
        placed: the part itself where something is still to be decided on it, or where the
            caller wants it; else None.
    """

    digest: Digest
    place: Span
    mark_place: Span
    mark_beyond: tuple[Related, ...]
    findings: tuple[Finding, ...]
    fits: tuple[Fit, ...] = ()
    placed: Placed | None = None

    @property
    def mark(self) -> str:
        """The piece mark."""
        return self.digest.mark


class Bench(Struct, frozen=True, kw_only=True):
    """What parts under the same settings are judged by.

    Attributes:
        practice: code, limits and weights.
        machines: those that the parts may be made on.
        rules: the rules of a part and of a machine that apply, in order.
        off: name of each rule that does not apply, of any scope -> why.
    """

    practice: Practice
    machines: "tuple[Machine, ...]"
    rules: tuple[Rule, ...]
    off: Mapping[str, str]

    @classmethod
    def of(
        cls, rules: Sequence[Rule], practice: Practice, machines: "Sequence[Machine]"
    ) -> "Bench":
        """Return the bench of some settings."""
        off = _off(rules, practice, machines)
        alone = tuple(r for r in rules if r.scope in ("part", "machine") and r.name not in off)
        return cls(practice=practice, machines=tuple(machines), rules=alone, off=off)


def judge(placed: Placed, bench: Bench, *, keep: bool = True) -> Judged:
    """Run the rules that look at one part alone, and on the machine that serves it best.

    Args:
        placed: the part and its places.
        bench: what it is judged by.
        keep: keep the part itself though no waiver of its own asks for it.
    """
    each = each_capability(bench.machines, placed)
    facts = Facts(placed.part, bench.practice)
    subjects: dict[str, object] = {"part": facts}
    if bench.machines:
        number = best(each)
        subjects["machine"] = MachineFacts(
            facts=facts, machine=bench.machines[number], capability=each[number]
        )
    found = [
        _found(rule, violation, placed)
        for scope, subject in subjects.items()
        for rule in bench.rules
        if rule.scope == scope
        for violation in checked(rule, subject)
    ]
    place, mark_place = place_of(placed, ""), place_of(placed, OF_SET)
    return Judged(
        digest=digest(0, placed),
        place=place,
        mark_place=place if mark_place == place else mark_place,
        mark_beyond=lines_beyond(placed, OF_SET),
        findings=weighed(found, bench.practice),
        fits=fits(placed, each),
        placed=placed if keep or placed.part.waivers else None,
    )


def checked(rule: Rule, subject: object) -> tuple[Violation, ...]:
    """Return what a rule finds, and name the rule in an exception that should never come."""
    try:
        return tuple(rule.check(subject))
    except Exception as error:
        error.add_note(f"in the rule {rule.name}")
        raise


def weighed(found: Sequence[Finding], practice: Practice) -> tuple[Finding, ...]:
    """Return findings with the severities that the settings give their rules."""
    wished: dict[str, Severity] = {
        name: weight for name, weight in practice.severities.items() if weight is not None
    }
    return tuple(
        replace(finding, severity=wished[finding.rule]) if finding.rule in wished else finding
        for finding in found
    )


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


def _found(rule: Rule, violation: Violation, placed: Placed) -> Finding:
    related = (
        Related(span=place_of(placed, element), message=word) for element, word in violation.related
    )
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
