"""Apply the decisions of side files, where the waivers of the parts themselves are applied."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.findings import Finding, Related, Severity
from translator.model import Angle, Part, Placed, Waiver, leg_names, leg_of, place_of
from translator.model.sections import Flat
from translator.rules._decisions import Decisions, SideWaiver, Substitution
from translator.rules._rule import Rule
from translator.rules._waive import Answer, Asked, accept, lapsed, no_rule, unused
from translator.tables.designations import designation_of, parse_section
from translator.tables.grades import read_grade

_NOT_SAID: Final = "none"
"""What a part says in place of a grade that it does not state."""


class Under(Struct, frozen=True, kw_only=True):
    """A part of the run.

    Attributes:
        placed: the part and its places.
        findings: what the rules say about it; what is accepted is marked in this list.
        idle: names of the rules that did not run on it.
        decisions: the side files it comes under.
    """

    placed: Placed
    findings: list[Finding]
    idle: frozenset[str]
    decisions: tuple[Decisions, ...]


class Terms(Struct, frozen=True, kw_only=True):
    """What all waivers are judged by.

    Attributes:
        scopes: name of each rule -> its scope.
        as_of: the day to judge dated waivers by (YYYY-MM-DD), or None.
    """

    scopes: Mapping[str, str]
    as_of: str | None

    @classmethod
    def of(cls, rules: Iterable[Rule], as_of: str | None) -> "Terms":
        """Return the terms under some rules."""
        scopes = {rule.name: rule.scope for rule in rules}
        return cls(scopes=MappingProxyType(scopes), as_of=as_of)


def apply_decisions(
    parts: Sequence[Under], decisions: Iterable[Decisions], terms: Terms
) -> Iterator[Finding]:
    """Mark what side files accept in the parts' findings; yield what is to be said of them.

    Args:
        parts: all parts of the run.
        decisions: all side files of the run.
        terms: what waivers are judged by.
    """
    for file in decisions:
        under: dict[str, list[Under]] = {}
        for part in parts:
            if file in part.decisions:
                under.setdefault(part.placed.part.mark, []).append(part)
        for waiver in file.waivers:
            meant = _of_order(waiver, under.get(waiver.mark, []))
            yield from _waiver(waiver, meant, terms, is_whole=file.is_whole)
        for substitution in file.substitutions:
            meant = _of_order(substitution, under.get(substitution.mark, []))
            yield from (_substituted(substitution, part.placed) for part in meant)
            if not meant and file.is_whole:
                yield _without_part(substitution, "substitution")


def _of_order(decision: SideWaiver | Substitution, parts: Iterable[Under]) -> list[Under]:
    return [part for part in parts if decision.order in (None, part.placed.part.order)]


def _waiver(
    side: SideWaiver, meant: Sequence[Under], terms: Terms, *, is_whole: bool
) -> Iterator[Finding]:
    """Apply one waiver to all parts it is for (revisions of one mark), and judge it once."""
    rule = side.waiver.rule
    if rule not in terms.scopes:
        yield _said("waiver-unknown", no_rule(rule), side)
        return
    if not meant and is_whole:
        yield _without_part(side, "waiver")
    answers: list[tuple[Waiver, Answer]] = []
    missing: list[str] = []
    for part in meant:
        if rule in part.idle:
            continue
        waiver = _for_part(side, part.placed.part)
        if isinstance(waiver, str):
            missing.append(waiver)
            continue
        asked = Asked(
            waiver=waiver,
            place=side.span,
            revision=part.placed.part.revision,
            as_of=terms.as_of,
        )
        answers.append((waiver, accept(asked, part.findings)))
    judged = _judged(answers, missing)
    if judged and (judged[0] != "waiver-unused" or terms.scopes[rule] != "set" or is_whole):
        yield _said(*judged, side)


def _judged(
    answers: Sequence[tuple[Waiver, Answer]], missing: Sequence[str]
) -> tuple[str, str] | None:
    """Return the rule and the sentence on a waiver; None where it does its work."""
    worn = [lapsed(waiver, answer.lapsed) for waiver, answer in answers if answer.lapsed]
    if worn:
        return "waiver-lapsed", worn[0]
    if any(answer.is_used for _, answer in answers):
        return None
    if missing:
        return "waiver-without-place", missing[0]
    return ("waiver-unused", unused(answers[0][0])) if answers else None


def _for_part(side: SideWaiver, part: Part) -> Waiver | str:
    """Return the waiver with its feature told by id, or why the part has no such place."""
    waiver = side.waiver
    legs = leg_names(part)
    if waiver.leg is not None and waiver.leg not in legs:
        has = "a flat has the one leg face" if legs == ("face",) else "an angle has legs a and b"
        return f"the waiver of {waiver.rule} for {part.mark} accepts nothing, since {has}"
    if side.counted is not None:
        return _counted(waiver, side.counted, part)
    looked_at = legs if waiver.leg is None else (waiver.leg,)
    names = {feature.id for leg in looked_at for feature in leg_of(part, leg).features}
    if waiver.feature is not None and waiver.feature not in names:
        return f"{part.mark} has no feature {waiver.feature} there: the waiver accepts nothing"
    return waiver


def _counted(waiver: Waiver, counted: tuple[str, int], part: Part) -> Waiver | str:
    kind, number = counted
    word = kind.replace("_", " ")
    leg = "face" if leg_names(part) == ("face",) else waiver.leg
    if leg is None:
        return f"{part.mark} has two legs: say on which of them {word} {number} is"
    fits = [feature.id for feature in leg_of(part, leg).features if feature.kind == kind]
    if number > len(fits):
        where = "the face" if leg == "face" else f"leg {leg}"
        held = f"no {word}" if not fits else f"{len(fits)} {word}{'s' if len(fits) > 1 else ''}"
        return f"there is no {word} {number}: {where} of {part.mark} has {held}"
    return waiver.model_copy(update={"leg": leg, "feature": fits[number - 1]})


def _substituted(substitution: Substitution, placed: Placed) -> Finding:
    """Hold a substitution against what the part says now; one that is made is on record."""
    part, field = placed.part, substitution.field
    now = part.grade or _NOT_SAID
    if field == "section":
        now = part.section.designation or designation_of(part.section)
    related = (Related(span=place_of(placed, field), message=f"the {field}"),)
    change = f"{field} {substitution.new} in place of {substitution.old}"
    if _says(part, field, substitution.new):
        by = f" ({substitution.by})" if substitution.by else ""
        waived = f"{substitution.reason}{by}"
        message = f"{part.mark} is made with {change}"
        return _said("substituted", message, substitution, related=related, waived=waived)
    if _says(part, field, substitution.old):
        message = f"{part.mark} says {field} {now} still: {change} is not made in it"
    else:
        message = f"{part.mark} says {field} {now}, which is neither side of {change}"
    return _said("substitution-differs", message, substitution, related=related)


def _says(part: Part, field: str, text: str) -> bool:
    """Tell whether a part's section or grade is the one that a text names."""
    if field == "section":
        section = parse_section(text, part.units).section
        return section is not None and _sizes(section) == _sizes(part.section)
    if part.grade is None:
        return False
    one, other = read_grade(text).grade, read_grade(part.grade).grade
    if one is None or other is None:
        return text.split() == part.grade.split()
    return one == other


def _sizes(section: Angle | Flat) -> tuple[str, float, float, float]:
    """Return kind and sizes; the legs of an angle in no order."""
    if isinstance(section, Flat):
        return section.kind, section.width_mm, section.thickness_mm, 0.0
    legs = sorted((section.leg_a_mm, section.leg_b_mm))
    return section.kind, legs[0], legs[1], section.thickness_mm


def _without_part(decision: SideWaiver | Substitution, what: str) -> Finding:
    order = f" of order {decision.order}" if decision.order else ""
    message = f"there is no part {decision.mark}{order} here: the {what} stands for nothing"
    return _said(f"{what}-without-place", message, decision)


def _said(
    rule: str,
    message: str,
    decision: SideWaiver | Substitution,
    *,
    related: tuple[Related, ...] = (),
    waived: str | None = None,
) -> Finding:
    is_note = rule in ("waiver-unused", "substituted")
    return Finding(
        rule=rule,
        severity=Severity.NOTE if is_note else Severity.WARNING,
        message=message,
        span=decision.span,
        mark=decision.mark,
        unit="",
        related=related,
        waived=waived,
        waived_at=decision.span if waived is not None else None,
    )
