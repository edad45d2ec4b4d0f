"""Apply the decisions of side files, where the waivers of the parts themselves are applied."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from translator.findings import Finding, Related, Severity
from translator.model import Part, Placed, Waiver, leg_names, leg_of, place_of
from translator.rules._decisions import Decisions, SideWaiver, Substitution
from translator.rules._waive import Answer, Asked, accept, lapsed, no_rule, unused
from translator.tables.designations import parse_section
from translator.tables.grades import read_grade


@dataclass(frozen=True, slots=True, kw_only=True)
class Under:
    """A part, the rules that did not run on it, and the decisions it comes under."""

    placed: Placed
    idle: frozenset[str]
    decisions: tuple[Decisions, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What all waivers are judged by.

    Attributes:
        scopes: name of each rule -> its scope.
        as_of: the day to judge dated waivers by, or None.
    """

    scopes: Mapping[str, str]
    as_of: str | None


def apply_decisions(
    parts: Sequence[Under],
    found: Sequence[list[Finding]],
    decisions: Iterable[Decisions],
    terms: Terms,
) -> Iterator[Finding]:
    """Mark what side files accept in the parts' findings; yield what is to be said of them.

    Args:
        parts: all parts of the run.
        found: the findings of each; accepted ones are marked in place.
        decisions: all side files of the run.
        terms: what waivers are judged by.
    """
    for file in decisions:
        under = [number for number, part in enumerate(parts) if file in part.decisions]
        for waiver in file.waivers:
            yield from _waiver(waiver, file, _meant(waiver, under, parts), found, parts, terms)
        for substitution in file.substitutions:
            meant = _meant(substitution, under, parts)
            if not meant and file.is_whole:
                message = f"{_no_part(substitution)}: the substitution is made nowhere"
                yield _said("substitution-without-place", message, substitution)
            for number in meant:
                yield _substituted(substitution, parts[number].placed)


def _meant(
    decision: SideWaiver | Substitution, under: Sequence[int], parts: Sequence[Under]
) -> list[int]:
    return [
        number
        for number in under
        if parts[number].placed.part.mark == decision.mark
        and decision.order in (None, parts[number].placed.part.order)
    ]
