"""Two marks of one order differ in capitals and small letters only.

What it checks: the piece marks of each order, capitals and small letters taken as equal.

Why: stamps and paint have capitals only, and many file systems do not tell the two apart: two
pieces get one name.

What to do: give one of the two another mark.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._digest import Digest
from translator.rules._rule import Example, Rule, Violation


def check(digests: tuple[Digest, ...]) -> Iterator[Violation]:
    """Yield each mark that another spelling of it came before."""
    first: dict[tuple[str, str], Digest] = {}
    told: set[tuple[str, str]] = set()
    for digest in digests:
        other = first.setdefault((digest.order, digest.mark.casefold()), digest)
        if other.mark != digest.mark and digest.key not in told:
            told.add(digest.key)
            yield Violation(
                message=f"{digest.mark} and {other.mark} differ in capitals only",
                element="mark",
                number=digest.number,
                others=((other.number, other.mark),),
            )


RULE: Final = Rule(
    name="marks-differ-in-case",
    title="two marks differ in capitals only",
    severity=Severity.WARNING,
    scope="set",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
grade S275JR
part F1 { section FB100x10  length 300 }
part F1a { section FB100x10  length 310 }
part f2 { section FB100x10  length 320 }
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
grade S275JR
part F1a { section FB100x10  length 300 }
part F1A { section FB100x10  length 310 }    # <--
"""
        ),
    ),
)
