"""Waivers: findings accepted beforehand, applied once after all rules have run."""

from collections.abc import Iterable
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.findings import Finding, Severity
from translator.model import Placed, Waiver, place_of
from translator.rules._revisions import comparable, is_newer
from translator.source import Span

SLACK_MM: Final = 0.0005
"""A value this much beyond the accepted one is the same value, written with other decimals."""


class Weighed(Struct, frozen=True, kw_only=True):
    """Whether a waiver accepts a finding at its place, and if not, why not."""

    accepts: bool
    why: str = ""


class Asked(Struct, frozen=True, kw_only=True):
    """A waiver before the findings of one part.

    Attributes:
        waiver: for this part, its feature told by id.
        place: where it stands.
        revision: of the part.
        as_of: the day to judge dated waivers by (YYYY-MM-DD), or None.
    """

    waiver: Waiver
    place: Span
    revision: str | None
    as_of: str | None


class Answer(Struct, frozen=True, kw_only=True):
    """What came of a waiver: whether it found its place, and why it does not hold there."""

    is_used: bool
    lapsed: str = ""


def waive(
    placed: Placed,
    findings: Iterable[Finding],
    known: frozenset[str],
    as_of: str | None,
    *,
    idle: frozenset[str] = frozenset(),
) -> tuple[Finding, ...]:
    """Return a part's findings with the accepted ones marked, and findings on the waivers.

    Args:
        placed: the part and its places.
        findings: what the rules say about it.
        known: names of all rules.
        as_of: the day to judge dated waivers by (YYYY-MM-DD); None leaves dates alone, so
            that the same bytes give the same verdict on any day.
        idle: names of the rules that did not run; nothing is said of their waivers.
    """
    out = list(findings)
    for index, waiver in enumerate(placed.part.waivers):
        if waiver.rule in idle:
            continue
        if waiver.rule not in known:
            out.append(_remark(placed, index, "waiver-unknown", no_rule(waiver.rule)))
            continue
        place = place_of(placed, f"waivers.{index}")
        revision = placed.part.revision
        asked = Asked(waiver=waiver, place=place, revision=revision, as_of=as_of)
        answer = accept(asked, out)
        if not answer.is_used:
            out.append(_remark(placed, index, "waiver-unused", unused(waiver)))
        elif answer.lapsed:
            message = lapsed(waiver, answer.lapsed)
            out.append(_remark(placed, index, "waiver-lapsed", message))
    return tuple(out)


def accept(asked: Asked, out: list[Finding]) -> Answer:
    """Mark what a waiver accepts among a part's findings; a mark that is there stays."""
    waiver = asked.waiver
    places = [i for i, f in enumerate(out) if f.rule == waiver.rule and _is_at(waiver, f.element)]
    reasons: list[str] = []
    for i in places:
        weighed = _weigh(asked, out[i])
        if not weighed.accepts:
            reasons.append(weighed.why)
        elif out[i].waived is None:
            out[i] = replace(out[i], waived=_accepted(waiver, out[i]), waived_at=asked.place)
    return Answer(is_used=bool(places), lapsed=reasons[0] if reasons else "")


def no_rule(name: str) -> str:
    """Return the sentence on a waiver whose rule is not known."""
    return f"there is no rule {name!r} to waive"


def unused(waiver: Waiver) -> str:
    """Return the sentence on a waiver that found nothing at its place."""
    return f"{_words(waiver)} finds nothing to accept"


def lapsed(waiver: Waiver, why: str) -> str:
    """Return the sentence on a waiver that does not accept what is at its place."""
    return f"{_words(waiver)} no longer holds: {why}"


def _remark(placed: Placed, index: int, rule: str, message: str) -> Finding:
    element = f"waivers.{index}"
    severity = Severity.NOTE if rule == "waiver-unused" else Severity.WARNING
    return Finding(
        rule=rule,
        severity=severity,
        message=message,
        span=place_of(placed, element),
        mark=placed.part.mark,
        element=element,
        unit="",
    )


def _is_at(waiver: Waiver, element: str) -> bool:
    """Tell whether a finding's element is the one place that a waiver names."""
    if waiver.feature is not None:
        leg, _, name = element.removeprefix("legs.").partition(".")
        return name == waiver.feature and waiver.leg in (None, leg)
    if waiver.leg is not None:
        base = f"legs.{waiver.leg}"
        return element == base or element.startswith(f"{base}.trims.")
    return not element.startswith("legs.")


def _weigh(asked: Asked, finding: Finding) -> Weighed:
    waiver = asked.waiver
    last = waiver.until_date
    if last is not None and asked.as_of is not None and asked.as_of > last:
        return Weighed(accepts=False, why=f"it ran until {last}")
    if waiver.until_revision is not None:
        why = _outlived(waiver.until_revision, asked.revision)
        if why:
            return Weighed(accepts=False, why=why)
    if waiver.value is None:
        return Weighed(accepts=True)
    if finding.value is None:
        return Weighed(accepts=False, why="this finding has no figure to hold against its value")
    excess = _worse_by(finding, waiver.value)
    if excess > SLACK_MM:
        unit = f" {finding.unit}".rstrip()
        why = f"the value is now {finding.value:g}{unit}, it accepts {waiver.value:g}{unit}"
        return Weighed(accepts=False, why=why)
    return Weighed(accepts=True)


def _accepted(waiver: Waiver, finding: Finding) -> str:
    """Return a waiver's reason with its terms: what it accepts, by whom, until when."""
    terms = []
    if waiver.value is not None:
        unit = f" {finding.unit}".rstrip()
        terms.append(f"accepted {_side(finding)} {waiver.value:g}{unit}")
    if waiver.by:
        terms.append(f"by {waiver.by}")
    if waiver.until_revision is not None:
        terms.append(f"until revision {waiver.until_revision}")
    if waiver.until_date is not None:
        terms.append(f"until {waiver.until_date}")
    return f"{waiver.reason} ({', '.join(terms)})" if terms else waiver.reason


def _side(finding: Finding) -> str:
    if finding.limit is None or finding.value is None or finding.value == finding.limit:
        return "at"
    return "down to" if finding.value < finding.limit else "up to"


def _worse_by(finding: Finding, accepted: float) -> float:
    value = finding.value or 0.0
    if finding.limit is None:
        return abs(value - accepted)
    return accepted - value if value < finding.limit else value - accepted


def _outlived(until: str, revision: str | None) -> str:
    if revision is None:
        return f"it runs until revision {until}, and the part states no revision"
    if not comparable(revision, until):
        return f"it runs until revision {until}, which can't be compared with {revision}"
    if is_newer(revision, until):
        return f"it ran until revision {until}, the part is at {revision}"
    return ""


def _words(waiver: Waiver) -> str:
    place = "".join(
        (
            f" on leg {waiver.leg}" if waiver.leg in ("a", "b") else "",
            " on the face" if waiver.leg == "face" else "",
            f" {waiver.feature}" if waiver.feature else "",
        )
    )
    return f"the waiver of {waiver.rule}{place}"
