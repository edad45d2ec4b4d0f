"""One piece mark stands for two parts.

What it checks: all parts of the delivery that have the same order and mark. If they differ in
section, length, ends, grade, finish, second work or in what is made on a leg, each is an error;
if they are the same piece (also turned end for end), every one after the first is a warning. A
part that a newer revision of its mark replaces does not clash: it gets a note, and only the
newest is handed on.

Why: the shop knows a piece by its mark alone; the wrong one of two is made, or both are.

What to do: find out which one is released and take the other out, or give it its own mark.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._digest import Digest, differences, superseded
from translator.rules._revisions import comparable
from translator.rules._rule import Example, Rule, Violation


def check(digests: tuple[Digest, ...]) -> Iterator[Violation]:
    """Yield each part whose mark another part of the set has too."""
    replaced = superseded(digests)
    groups: dict[tuple[str, str], list[Digest]] = {}
    for digest in digests:
        newer = replaced.get(digest.number)
        if newer is None:
            groups.setdefault(digest.key, []).append(digest)
        else:
            yield _replaced(digest, newer)
    for group in groups.values():
        yield from _clashes(group)


def _replaced(digest: Digest, newer: Digest) -> Violation:
    return Violation(
        message=f"revision {digest.revision} of {digest.mark} is replaced by revision"
        f" {newer.revision}",
        element="mark",
        severity=Severity.NOTE,
        number=digest.number,
        others=((newer.number, "the newer"),),
    )


def _clashes(group: list[Digest]) -> Iterator[Violation]:
    first = group[0]
    other = next((d for d in group[1:] if differences(first, d)), None)
    if other is not None:
        yield _clash(first, other)
    for digest in group[1:]:
        if differences(first, digest):
            yield _clash(digest, first)
        else:
            yield Violation(
                message=f"{digest.mark} is given again, the same piece as before",
                element="mark",
                severity=Severity.WARNING,
                number=digest.number,
                others=((first.number, "the first"),),
            )


def _clash(one: Digest, other: Digest) -> Violation:
    *before, last = differences(one, other)
    where = f"{', '.join(before)} and {last}" if before else last
    revisions = ""
    if one.revision != other.revision and not comparable(one.revision, other.revision):
        names = (r or "none" for r in (one.revision, other.revision))
        revisions = f"; the revisions {' and '.join(names)} can't be put in order"
    return Violation(
        message=f"{one.mark} is given twice and differs in {where}{revisions}",
        element="mark",
        number=one.number,
        others=((other.number, "the other"),),
    )


RULE: Final = Rule(
    name="duplicate-mark",
    title="one piece mark stands for two parts",
    severity=Severity.ERROR,
    scope="set",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
order "TQ-7"
part C12 { section FB100x10  length 300 }
part C13 { section FB100x10  length 300 }
""",
            files=(
                (
                    "other.bmk",
                    """\
units mm
order "TQ-8"
part C12 { section FB100x10  length 320 }
""",
                ),
            ),
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
order "TQ-7"
part C12 { section FB100x10  length 300 }    # <--
""",
            files=(
                (
                    "other.bmk",
                    """\
units mm
order "TQ-7"
part C12 { section FB100x10  length 320 }    # <--
""",
                ),
            ),
        ),
    ),
)
