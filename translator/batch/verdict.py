"""What is said of a whole delivery, put together from what its stages say."""

from collections.abc import Iterable, Sequence

from translator.batch.record import FileRecord
from translator.findings import Finding, Verdict, in_order
from translator.rules._practice import Practice
from translator.rules._run import Checked


def verdict_of(
    records: Sequence[FileRecord],
    practices: Iterable[Practice],
    checked: Checked,
    heard: Iterable[Finding],
) -> Verdict:
    """Return the verdict on a delivery.

    Args:
        records: what each file says, in order.
        practices: what its parts were judged by.
        checked: what the rules say of the parts.
        heard: all findings.
    """
    practices = tuple(practices)
    pieces = tuple((part.digest.path, part.mark) for r in records for part in r.parts)
    return Verdict(
        findings=in_order(heard),
        files=tuple(record.path for record in records),
        parts=len(pieces),
        pieces=pieces,
        rules_run=checked.rules,
        rules_not_applicable=checked.not_applied,
        practice=tuple(dict.fromkeys(practice.words for practice in practices)),
        changed=tuple(dict.fromkeys(change for p in practices for change in p.changes)),
        not_ours=tuple((r.path, r.not_ours) for r in records if r.not_ours),
        fits=checked.fits,
    )
