"""A piece mark can't be the name of a file as it stands.

What it checks: characters other than letters, digits and `. _ + -`, a mark that begins with a
dot, plus or dash, one that some system keeps for itself (CON, NUL, COM1), and one longer than
120 characters.

Why: files are named by the mark. Such a mark is written with `~` and numbers, which is safe and
tells it from all others, but is hard to find by hand.

What to do: nothing must be done; a mark of letters, digits and dashes is easier to work with.

Reference: common practice, no source
"""

import string
from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts
from translator.rules._rule import Example, Rule, Violation

LONGEST: Final = 120

_LETTERS: Final = frozenset(string.ascii_letters + string.digits)
_FIRST: Final = _LETTERS | {"_"}
_FURTHER: Final = _LETTERS | frozenset("._+-")
_KEPT: Final = frozenset(
    ("CON", "PRN", "AUX", "NUL", *(f"{port}{n}" for port in ("COM", "LPT") for n in range(10)))
)
"""Of those that some systems keep, the ones that a plain mark can be."""


def check(facts: Facts) -> Iterator[Violation]:
    """Yield once for a mark that a file name can't hold as it stands."""
    mark = facts.part.mark
    if mark[:1] not in _FIRST or not (_FURTHER | {"_"}).issuperset(mark):
        odd = next((c for c in mark if c not in _FURTHER | {"_"}), mark[:1])
        what = f"it holds {odd!r}" if odd != mark[:1] else f"it begins with {odd!r}"
        yield _violation(mark, what)
    elif mark.split(".", 1)[0].upper() in _KEPT:
        yield _violation(mark, "some systems keep this name for themselves")
    elif len(mark) > LONGEST:
        yield _violation(mark, f"it has {len(mark)} characters, more than {LONGEST}")


def _violation(mark: str, why: str) -> Violation:
    shown = mark if len(mark) <= LONGEST else f"{mark[:LONGEST]}..."
    return Violation(
        message=f"the mark {shown} can't be a file name as it stands: {why}", element="mark"
    )


RULE: Final = Rule(
    name="mark-unsafe",
    title="a piece mark can't be a file name as it stands",
    severity=Severity.NOTE,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(Example(text="units mm\npart C12-B.1_x+2 { section FB100x10  length 300 }\n"),),
    failing=(
        Example(
            text="""\
units mm
part 12-B/1 { section FB100x10  length 300 }    # <--
part NUL { section FB100x10  length 310 }       # <--
"""
        ),
    ),
)
