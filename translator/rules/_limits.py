"""Figures that parts are held against: the shop's in place of a code's, words for both."""

from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from translator.findings import Severity
from translator.lengths.parse import INCH, Unit
from translator.model import on_grid
from translator.rules._bolts import MeantBolt
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts
from translator.tables.figures import Limit, Measure, Source, exact

PUBLISHED: Final = ("published copy", "transcription")
"""Trust that an error may rest on; a figure from memory or of common practice only warns."""


def shop_limit(
    facts: Facts, rule: str, *, bolts: Iterable[MeantBolt] = (), hole_mm: float = 0.0
) -> Limit | None:
    """Return what the shop's settings put in place of a rule's limit, None if nothing.

    Args:
        facts: of the part.
        rule: name of the rule.
        bolts: whose diameter ``d`` is, the largest of them.
        hole_mm: what ``d0`` is.
    """
    wished = facts.practice.limits.get(rule)
    if wished is None:
        return None
    value = wished.exact_mm(
        bolt_mm=max((bolt.diameter for bolt in bolts), default=Fraction(0)),
        hole_mm=exact(hole_mm),
        thickness_mm=exact(facts.part.section.thickness_mm),
    )
    # The shop's own word weighs as much as a published page.
    source = Source(title=f"the shop's limit, {wished.text}", edition="", trust="published copy")
    unit: Unit = facts.part.units if wished.symbol else wished.unit
    return Limit(measure=in_unit(value, unit), source=source)


def share(facts: Facts, rule: str, usual: float) -> float:
    """Return the share that the shop's settings give a rule in hundredths, else the usual."""
    wished = facts.practice.limits.get(rule)
    return usual if wished is None else float(wished.times / 100)


def in_unit(mm: Fraction, unit: Unit) -> Measure:
    """Return a length as a measure of a unit."""
    return Measure(value=mm / INCH if unit == "inch" else mm, unit=unit)


def is_less(value_mm: float, limit: Limit) -> bool:
    """Tell whether a length is under a limit by more than a rounded file accounts for."""
    return on_grid(value_mm) < on_grid(limit.mm - HALF_LAST_DECIMAL_MM)


def is_more(value_mm: float, limit: Limit) -> bool:
    """Tell whether a length is over a limit by more than a rounded file accounts for."""
    return on_grid(value_mm) > on_grid(limit.mm + HALF_LAST_DECIMAL_MM)


def words(facts: Facts, limit: Limit) -> str:
    """Return a limit as the part's author would write it, and in its own unit if another."""
    if limit.measure.unit == facts.part.units:
        return limit.text
    return f"{facts.length(limit.mm)} ({limit.text})"


def weight(source: Source, *bolts: MeantBolt) -> Severity:
    """Return what a finding weighs: an error only for stated bolts and a published figure."""
    is_sure = all(bolt.is_stated for bolt in bolts) and source.trust in PUBLISHED
    return Severity.ERROR if is_sure else Severity.WARNING


def whose(source: Source, *bolts: MeantBolt) -> str:
    """Return, in brackets, how the bolts were come by and where the figure stands."""
    return f"({come_by(*bolts)}; {source.reference})"


def come_by(*bolts: MeantBolt) -> str:
    """Return how bolts were come by, once for those of one size."""
    said = {(bolt.name, bolt.is_stated): bolt.words for bolt in reversed(bolts)}
    return "; ".join(reversed(said.values()))
