"""A piece is the opposite hand of another mark, and neither says so.

What it checks: all parts of the delivery that belong to one order: pieces with different marks,
one the mirror image of the other and not also the same piece. Nothing is said where a title or
remark of either speaks of an opposite hand, or the marks do (B7 and B7R, B7-L and B7-R).

Why: opposite hands are mixed up at the machine, in the yard and on the site; and where two equal
pieces were meant, one of the two is wrong.

What to do: look whether both hands are meant, and say so in the title or the mark.

Reference: common practice, no source
"""

import re
from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._digest import Digest, superseded
from translator.rules._rule import Example, Rule, Violation

_HAND: Final = re.compile(r"[-./ _]?(R|L|X|H|M|OH|OPP|RH|LH)", re.IGNORECASE)


def check(digests: tuple[Digest, ...]) -> Iterator[Violation]:
    """Yield each mark that is the opposite hand of an earlier one without a word."""
    replaced = superseded(digests)
    hands: dict[tuple[str, str], Digest] = {}
    for digest in digests:
        if digest.number in replaced or not digest.hand or digest.hand == digest.mirror:
            continue
        hands.setdefault((digest.order, digest.hand), digest)
        other = hands.get((digest.order, digest.mirror))
        if other is None or other.mark == digest.mark or _is_called(digest, other):
            continue
        yield Violation(
            message=f"{digest.mark} is the opposite hand of {other.mark}, and neither says so",
            element="mark",
            number=digest.number,
            others=((other.number, other.mark),),
        )


def _is_called(one: Digest, other: Digest) -> bool:
    if one.says_opposite or other.says_opposite:
        return True
    return _stem(one.mark) == _stem(other.mark)


def _stem(mark: str) -> str:
    """Return a mark without the letters at its end that tell the hand."""
    found = re.fullmatch(rf"(.*[0-9]){_HAND.pattern}", mark, re.IGNORECASE)
    return found[1] if found else mark


RULE: Final = Rule(
    name="opposite-hand-not-called",
    title="a piece is the opposite hand of another mark without saying so",
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
part A1 { section L90x60x8  length 300  leg a { holes 22 gauge 50 at 50 } }
part A1R { section L90x60x8  length 300  leg a { holes 22 gauge 50 at 50 from far } }
part A2 "opposite hand" { section L90x60x8  length 400  leg a { holes 22 gauge 50 at 50 } }
part A3 { section L90x60x8  length 400  leg a { holes 22 gauge 50 at 50 from far } }
part A4 { section L90x60x8  length 500  leg a { holes 22 gauge 50 at 50, 450 } }
part A5 { section L90x60x8  length 500  leg a { holes 22 gauge 50 at 50, 449 } }
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
order "TQ-7"
grade S275JR
part A1 { section L90x60x8  length 300  leg a { holes 22 gauge 50 at 50 } }
part A2 { section L90x60x8  length 300  leg a { holes 22 gauge 50 at 50 from far } }    # <--
"""
        ),
    ),
)
