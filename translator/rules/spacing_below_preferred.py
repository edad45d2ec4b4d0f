"""Two bolts of one leg stand closer than 3 diameters, the spacing that AISC prefers.

What it checks: under us, the distance from centre to centre of bolts on one leg, from the least
spacing of 2-2/3 diameters up to 3 diameters of the larger bolt.

Why: at 3 diameters a wrench has room, and the bearing strength need not be reduced.

What to do: nothing must be done. Where there is room, 3 diameters are better; a shop that wants
another figure sets it in [limits] spacing-below-preferred.

Reference: AISC 360-22 J3.4 (J3.3 before), the preferred distance
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import is_less, shop_limit, whose, words
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.rules._spacing import BoltPair, bolt_pairs, too_tight
from translator.tables.figures import Limit
from translator.tables.spacing import spacing_preferred


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole for a bolt that is nearer than preferred to an earlier one."""
    told: set[str] = set()
    for it in bolt_pairs(facts):
        limit = _preferred(facts, it)
        second = it.pair.second
        if limit is None or second.id in told or not is_less(it.pair.apart_mm, limit):
            continue
        if too_tight(facts, it) is None:
            told.add(second.id)
            yield Violation(
                message=f"{named(second)} is {facts.length(it.pair.apart_mm)} from its neighbour,"
                f" centre to centre, less than the preferred {words(facts, limit)}"
                f" {whose(limit.source, *it.bolts)}",
                element=path_of(it.pair.leg, second),
                value=it.pair.apart_mm,
                limit=limit.mm,
                related=((path_of(it.pair.leg, it.pair.first), "its neighbour"),),
            )


def _preferred(facts: Facts, it: BoltPair) -> Limit | None:
    own = shop_limit(facts, "spacing-below-preferred", bolts=it.bolts, hole_mm=it.hole_mm)
    if own is not None:
        return own
    bolt = it.larger
    return spacing_preferred(bolt.name, bolt.edition) if bolt.code == "us" else None


RULE: Final = Rule(
    name="spacing-below-preferred",
    title="two bolts stand closer than the preferred spacing",
    severity=Severity.NOTE,
    scope="part",
    reference="AISC 360-22 J3.4 (J3.3 before), the preferred distance",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt 7/8 gauge 2-1/2 at 1-1/2, 4-1/8, 7-1/8 }
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a {
    holes bolt 7/8 gauge 2-1/2 at 1-1/2
    holes bolt 7/8 gauge 2-1/2 at 4          # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
    limit=("d", "d0", "t", ""),
)
