"""One piece is made under two marks of the same order.

What it checks: all parts of the delivery that belong to one order: pieces that are the same in
section, length, grade, finish, second work, cuts and holes, lie the same way, and have different
marks. Older revisions that a newer one replaces do not count, nor do stamps' texts.

Why: the two are made in two batches, sorted twice and mixed up on the site.

What to do: nothing if the marks are meant to keep assemblies apart; else make it one mark.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._digest import Digest, superseded
from translator.rules._rule import Example, Rule, Violation


def check(digests: tuple[Digest, ...]) -> Iterator[Violation]:
    """Yield each mark after the first that stands for a piece drawn the same."""
    replaced = superseded(digests)
    first: dict[tuple[str, str], Digest] = {}
    told: set[tuple[str, str]] = set()
    for digest in digests:
        if digest.number in replaced:
            continue
        other = first.setdefault((digest.order, digest.drawn), digest)
        if other.mark != digest.mark and digest.key not in told:
            told.add(digest.key)
            yield Violation(
                message=f"{digest.mark} is the same piece as {other.mark}",
                element="mark",
                number=digest.number,
                others=((other.number, other.mark),),
            )


RULE: Final = Rule(
    name="same-piece-two-marks",
    title="one piece is made under two marks",
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
part F1 { section FB100x10  length 300  face { holes 22 gauge 40 at 50 } }
part F2 { section FB100x10  length 300  face { holes 22 gauge 40 at 51 } }
part F3 { section FB100x10  length 300  face { holes 22 gauge 40 at 50 from far } }
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
order "TQ-7"
grade S275JR
part F1 { section FB100x10  length 300  face { holes 22 gauge 40 at 50 } }
part F2 { section FB100x10  length 300  face { holes 22 gauge 40 at 50 } }    # <--
"""
        ),
    ),
)
