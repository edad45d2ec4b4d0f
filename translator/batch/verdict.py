"""What is said of a whole delivery, put together from what its stages say."""

from collections.abc import Iterable, Sequence

from translator.findings import Finding, Verdict, in_order
from translator.readers import Reading
from translator.rules._practice import Practice
from translator.rules._run import Checked


def verdict_of(
    read: Sequence[tuple[str, Reading]],
    practices: Sequence[Practice],
    checked: Checked,
    heard: Iterable[Finding],
) -> Verdict:
    """Return the verdict on a delivery.

    Args:
        read: path of each file and what it says, in order.
        practices: for each part what it was judged by.
        checked: what the rules say of the parts.
        heard: all findings.
    """
    parts = [placed for _, reading in read for placed in reading.parts]
    return Verdict(
        findings=in_order(heard),
        files=tuple(path for path, _ in read),
        parts=len(parts),
        pieces=tuple((placed.places[""].path, placed.part.mark) for placed in parts),
        rules_run=checked.rules,
        rules_not_applicable=checked.not_applied,
        practice=tuple(dict.fromkeys(practice.words for practice in practices)),
        changed=tuple(dict.fromkeys(change for p in practices for change in p.changes)),
        not_ours=tuple((path, reading.not_ours) for path, reading in read if reading.not_ours),
        fits=checked.fits,
    )
