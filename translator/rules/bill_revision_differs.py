"""The bill asks for another revision of a mark than the part is.

What it checks: both revisions, where bill and part state one; "-" stands for none, and capitals
and leading noughts make no difference. Of several revisions of a mark only the newest part is
looked at. A part that states none (NC files can't) is a note.

Why: an old part file makes the piece that the drawing no longer shows; a newer one than the
bill's may not be released yet.

What to do: take the file of the revision that is released, or have the bill brought up to date.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from translator.findings import Severity
from translator.rules._bill import BillFacts, BillViolation, differs
from translator.rules._revisions import comparable, is_newer, revision_key
from translator.rules._rule import Example, Rule

_NONE: Final = ("none", "sign")


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each row whose revision is not that of its part."""
    for billed in facts.compared:
        for line, part in billed.pairs:
            wanted, own = line.revision, part.revision
            if wanted is None or revision_key(wanted)[0] in _NONE:
                continue
            if own is not None and revision_key(own) == revision_key(wanted):
                continue
            message = f"the bill asks for revision {wanted} of {line.mark}, {_own(own, wanted)}"
            found = differs(line, part, "revision", message)
            yield found if own is not None else replace(found, severity=Severity.NOTE)


def _own(own: str | None, wanted: str) -> str:
    if own is None:
        return "the part states none"
    if not comparable(own, wanted):
        return f"the part is revision {own}: the two can't be put in order"
    return f"the part is revision {own}, {'a newer' if is_newer(own, wanted) else 'an older'} one"


_PARTS: Final = """\
units mm
part F41 { section FB100x10  length 300  revision "B" }
part F42 { section FB100x10  length 310  revision "2" }
"""

RULE: Final = Rule(
    name="bill-revision-differs",
    title="bill and part differ in revision",
    severity=Severity.ERROR,
    scope="bill",
    reference="common practice, no source",
    check=check,
    passing=(Example(text=_PARTS, bill="Mark,Qty,Rev\nF41,1,b\nF42,1,02\n"),),
    failing=(Example(text=_PARTS, bill="Mark,Qty,Rev,Remark\nF41,1,C,<-- newer\nF42,1,A,<--\n"),),
)
