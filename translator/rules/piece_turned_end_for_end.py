"""A piece is another mark's piece turned end for end.

What it checks: all parts of the delivery that belong to one order: pieces with different marks
that become the same after a turn the section allows, stamps' texts apart. Older revisions that a
newer one replaces do not count.

Why: the shop makes one piece under two marks and lays it out twice. Where an opposite hand was
meant, the second one is drawn wrongly, for a turned piece is not the opposite hand.

What to do: nothing if it is meant so; make it one mark, or draw the opposite hand.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._digest import Digest, superseded
from translator.rules._rule import Example, Rule, Violation


def check(digests: tuple[Digest, ...]) -> Iterator[Violation]:
    """Yield each mark that stands for an earlier mark's piece, turned."""
    replaced = superseded(digests)
    ways: dict[tuple[str, str], list[Digest]] = {}
    for digest in digests:
        if digest.number in replaced:
            continue
        known = ways.setdefault((digest.order, digest.piece), [])
        if any(other.drawn == digest.drawn for other in known):
            continue
        other = next((other for other in known if other.mark != digest.mark), None)
        known.append(digest)
        if other is not None:
            yield Violation(
                message=f"{digest.mark} is {other.mark} turned end for end",
                element="mark",
                number=digest.number,
                others=((other.number, other.mark),),
            )


RULE: Final = Rule(
    name="piece-turned-end-for-end",
    title="a piece is another mark's piece turned end for end",
    severity=Severity.NOTE,
    scope="set",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
order "TQ-7"
grade S275JR
part A1 { section L90x90x10  length 300  leg a { holes 22 gauge 50 at 50 } }
part A2 { section L90x90x10  length 300  leg a { holes 22 gauge 50 at 50 from far } }
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
order "TQ-7"
grade S275JR
part A1 { section L90x90x10  length 300  leg a { holes 22 gauge 50 at 50 } }
part A2 { section L90x90x10  length 300  leg b { holes 22 gauge 50 at 50 from far } }    # <--
"""
        ),
    ),
)
