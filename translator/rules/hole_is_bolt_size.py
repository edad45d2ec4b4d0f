"""A hole is as large as its bolt, so that the bolt does not go in by hand.

What it checks: holes and slots with a stated bolt that are less than 0.25 mm wider than it, and
holes for which no bolt is stated that are no bolt's hole but exactly the size of a bolt.

Why: somebody wrote the bolt where the hole was meant. A 3/4 bolt takes a 13/16 in. hole, an M20
bolt a 22 mm hole.

What to do: write `holes bolt 3/4`, which gives the standard hole, or the hole's own size. For a
fitted bolt the finding is waived.

Reference: AISC 360 Tables J3.3 and J3.3M, EN 1090-2 Table 11 for the standard hole; 0.25 mm is
common practice, no source
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from translator.findings import Severity
from translator.model import on_grid
from translator.rules._bolts import is_tapped, least_width, may_take_bolt
from translator.rules._facts import Facts, named, path_of
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.bolts import INCH_BOLTS, METRIC_BOLTS, Bolt, read_bolt
from translator.tables.figures import exact
from translator.tables.holes import ROUNDING_MM, HoleSizes, hole_sizes

LEAST_PLAY_MM: Final = 0.25

_BOLTS: Final = tuple(read_bolt(name) for name in INCH_BOLTS + METRIC_BOLTS)


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole and slot that is as wide as its bolt, or as a bolt where none is known."""
    for leg, feature in facts.drilled:
        if is_tapped(feature):
            continue
        width, meant = least_width(feature), facts.bolts.get(feature.id)
        if meant is not None:
            play = _play(width, meant.bolt)
            bolt = meant.bolt if meant.is_stated and _is_tight(play) else None
            sizes, words = meant.sizes, meant.words
        else:
            bolt = _same_size(width) if may_take_bolt(feature) else None
            play, sizes = 0.0, None if bolt is None else _sizes(facts, bolt)
            words = "" if bolt is None else f"a {bolt.name} bolt"
        if bolt is not None:
            left = f"only {facts.length(play)} of" if play > ROUNDING_MM else "no"
            hole = "" if sizes is None else f"; its standard hole is {sizes.standard.text}"
            source = "" if sizes is None else f" ({sizes.source.reference})"
            yield Violation(
                message=f"{named(feature)} of {facts.length(width)} leaves {left} play for"
                f" {words}{hole}{source}",
                element=path_of(leg, feature),
                value=width,
                limit=bolt.diameter.mm + LEAST_PLAY_MM,
            )


@lru_cache(maxsize=1024)
def _play(width_mm: float, bolt: Bolt) -> float:
    return on_grid(exact(width_mm) - bolt.diameter.exact_mm)


def _is_tight(play_mm: float) -> bool:
    return -ROUNDING_MM <= play_mm < LEAST_PLAY_MM


def _same_size(width_mm: float) -> Bolt | None:
    return next((b for b in _BOLTS if abs(b.diameter.mm - width_mm) <= ROUNDING_MM), None)


def _sizes(facts: Facts, bolt: Bolt) -> HoleSizes | None:
    for code in facts.practice.codes_for(bolt.unit):
        sizes = hole_sizes(bolt.name, code, facts.practice.edition(code))
        if sizes is not None:
            return sizes
    return None


RULE: Final = Rule(
    name="hole-is-bolt-size",
    title="a hole is as large as its bolt",
    severity=Severity.WARNING,
    scope="part",
    reference="AISC 360 Tables J3.3 and J3.3M, EN 1090-2 Table 11 for the standard hole; 0.25 mm is"
    " common practice, no source",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a {
    holes 13/16 gauge 2-1/2 at 1-1/4, 4-1/4
    holes 3/4 rod gauge 2-1/2 at 8
    holes 3/4 tapped bolt 3/4 gauge 2-1/2 at 10
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
  section L4x4x3/8
  length 11-1/2
  leg a {
    holes 3/4 gauge 2-1/2 at 1-1/4                   # <--
    holes 7/8 bolt 7/8 gauge 2-1/2 at 5              # <--
  }
  leg b { holes 20.2mm bolt M20 gauge 2-1/2 at 2 }   # <--
}
""",
        ),
    ),
    applies=needs_code,
)
