"""A piece mark can't be the name of a file as it stands.

What it checks: characters other than letters, digits and `. _ + -`, a mark that begins with a
dot, plus or dash, one that some system keeps for itself (CON, NUL, COM1), and one longer than
120 characters.

Why: files are named by the mark. Such a mark is written with `~` and numbers, which is safe and
tells it from all others, but is hard to find by hand.

What to do: nothing must be done; a mark of letters, digits and dashes is easier to work with.

Reference: common practice, no source
"""

import re
from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts
from translator.rules._rule import Example, Rule, Violation

LONGEST: Final = 120

_PLAIN: Final = re.compile(r"[A-Za-z0-9_][A-Za-z0-9._+-]*")
_KEPT: Final = re.compile(r"(CON|PRN|AUX|NUL|CONIN\$|CONOUT\$|(COM|LPT)[0-9])", re.IGNORECASE)


def check(facts: Facts) -> Iterator[Violation]:
    """Yield once for a mark that a file name can't hold as it stands."""
    mark = facts.part.mark
    if not _PLAIN.fullmatch(mark):
        odd = next((c for c in mark if not re.match("[A-Za-z0-9._+-]", c)), mark[:1])
        what = f"it holds {odd!r}" if odd != mark[:1] else f"it begins with {odd!r}"
        yield _violation(mark, what)
    elif _KEPT.fullmatch(mark.split(".", 1)[0]):
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
