"""The shop does not keep the grade, or not in that thickness.

What it checks: the stated grade and the thickness against the shop's own list, `[stock]` in the
settings; off until there is one. Qualities of one EN grade are told apart (S275JR, S275J2).

Why: the bar has to be bought, and the piece waits for it.

What to do: order the steel in time, ask for another grade, or bring the list up to date.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts
from translator.rules._practice import Practice
from translator.rules._rule import Example, Rule, Violation
from translator.tables.grades import read_grade


def check(facts: Facts) -> Iterator[Violation]:
    """Yield once for a part of a grade or thickness that is not kept."""
    text = (facts.part.grade or "").strip()
    known = read_grade(text).grade if text else None
    name = text if known is None else known.name
    if not name:
        return
    stock, thickness = facts.practice.stock, facts.part.section.thickness_mm
    if name not in stock:
        if known is not None:  # one that is not known is told as such
            yield Violation(message=f"{name} is not kept by the shop", element="grade")
        return
    thickest = stock[name]
    if thickest is not None and thickness > thickest + HALF_LAST_DECIMAL_MM:
        yield Violation(
            message=f"{name} of {facts.length(thickness)} is not kept by the shop, whose thickest"
            f" is {facts.length(thickest)}",
            element="grade",
            value=thickness,
            limit=thickest,
        )


def _applies(practice: Practice) -> str:
    return "" if practice.stock else "the settings list no stock"


_SETTINGS: Final = 'practice = "none"\n[stock]\nS275JR = "20mm"\nS355J2 = true\n'

RULE: Final = Rule(
    name="grade-not-stocked",
    title="the shop does not keep the grade in that thickness",
    severity=Severity.WARNING,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            settings=_SETTINGS,
            text="""\
units mm
part F1 { section FB100x20  length 300  grade S275JR }
part F2 { section FB100x40  length 310  grade S355J2 }
""",
        ),
    ),
    failing=(
        Example(
            settings=_SETTINGS,
            text="""\
units mm
part F1 { section FB100x20.01  length 300  grade S275JR }    # <--
part F2 { section FB100x10  length 310  grade S235JR }       # <--
""",
        ),
    ),
    applies=_applies,
)
