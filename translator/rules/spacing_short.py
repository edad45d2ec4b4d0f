"""Two bolts of one leg stand closer than their code allows.

What it checks: the distance from centre to centre of holes and slots for bolts on one leg. us:
2-2/3 diameters of the larger bolt. eu: 2.2 d0 of the larger hole in any direction; two rows
along the piece nearer than 2.4 d0 need holes 2.4 d0 apart the straight way, and then only 1.2 d0
between the rows. Which of 2.2 and 2.4 d0 holds depends on the direction of the load, taken here
to run along the piece, so the second is a warning for stated bolts, else a note, and a note on
the usual back marks of a leg. A bolt that is stated makes the first an error, one taken from the
hole's size a warning.

Why: the steel between two holes tears, and the wrench has no room.

What to do: widen the pitch, or stagger the rows. A shop limit stands in [limits] spacing-short.

Reference: us: AISC 360-22 J3.4 (J3.3 before); eu: EN 1993-1-8:2005 Table 3.3 (its rule for
staggered rows from memory)
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import whose, words
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.rules._spacing import BoltPair, Tight, bolt_pairs, too_tight


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole for a bolt that is too close to an earlier one, beside the closest."""
    worst: dict[str, tuple[float, BoltPair, Tight]] = {}
    for it in bolt_pairs(facts):
        tight = too_tight(facts, it)
        name, value = it.pair.second.id, it.pair.apart_mm
        if tight is not None and (name not in worst or value < worst[name][0]):
            worst[name] = (value, it, tight)
    for _, it, tight in worst.values():
        yield _violation(facts, it, tight)


def _violation(facts: Facts, it: BoltPair, tight: Tight) -> Violation:
    pair = it.pair
    where = " across the leg" if tight.is_across else ""
    why = ", which holds if the load runs along the piece" if tight.is_across else ""
    usual = ""
    if tight.customary is not None:
        lines = " and ".join(line.text for line in tight.customary.lines)
        usual = f"; {lines} are usual lines of the leg: {tight.customary.source.reference}"
    return Violation(
        message=f"{named(pair.second)} is {facts.length(pair.apart_mm)} from its neighbour"
        f"{where}, centre to centre, less than {words(facts, tight.limit)}{why}"
        f" {whose(tight.limit.source, *it.bolts)}{usual}",
        element=path_of(pair.leg, pair.second),
        value=pair.apart_mm,
        limit=tight.limit.mm,
        severity=tight.severity,
        related=((path_of(pair.leg, pair.first), "its neighbour"),),
    )


RULE: Final = Rule(
    name="spacing-short",
    title="two bolts of one leg stand too close",
    severity=Severity.ERROR,
    scope="part",
    reference="us: AISC 360-22 J3.4 (J3.3 before); eu: EN 1993-1-8:2005 Table 3.3 (its rule for"
    " staggered rows from memory)",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L5x3-1/2x3/8
  length 11-1/2
  leg a {
    holes bolt 3/4 gauge 2 at 1-1/4, 3-1/2, 5-3/4        # 2 in. is the least
    holes bolt 3/4 gauge 3-3/4 at 2-3/8, 4-5/8
  }
}
""",
        ),
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part C2 {
  section L150x150x12
  length 400
  leg a { holes bolt M20 gauge 55, 110 at 40, 88.4 }
  leg b {
    holes bolt M20 gauge 60 at 40
    holes bolt M20 gauge 100 at 74.5        # staggered, 52.8 mm the straight way
  }
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
  section L5x3-1/2x3/8
  length 11-1/2
  leg a {
    holes bolt 3/4 gauge 2 at 1-1/4
    holes bolt 3/4 gauge 3-3/4 at 1-1/4                  # <--
    holes 13/16 gauge 2 at 8
    holes 13/16 gauge 2 at 9-3/4                         # <--
  }
}
""",
        ),
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part C2 {
  section L150x150x12
  length 400
  leg a { holes bolt M20 gauge 55 at 40   holes bolt M20 gauge 55 at 88.39 }    # <--
  leg b {
    holes bolt M20 gauge 60 at 40
    holes bolt M20 gauge 100 at 74.4                                            # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
    limit=("d", "d0", "t", ""),
)
