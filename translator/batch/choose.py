"""Which parts of a delivery may be written, and why the others may not."""

from collections.abc import Iterable, Sequence

from translator.findings import Finding, Severity
from translator.rules._digest import Digest, superseded


def refusals(digests: Sequence[Digest], findings: Iterable[Finding]) -> tuple[str, ...]:
    """Return, for each part, why no output may be written; "" when it may.

    A part with an error is refused, and so is each part of a file that has an error outside
    any part: it may reach them all (units, a default, a family). Of one mark only the newest
    revision is written, and only once.
    """
    errors = failing(findings)
    replaced = superseded(tuple(digests))
    written: dict[tuple[str, str], str] = {}
    reasons: list[str] = []
    for number, part in enumerate(digests):
        reason = ""
        if (part.path, part.mark) in errors:
            reason = "it has errors"
        elif (part.path, "") in errors:
            reason = "its file has errors"
        elif number in replaced:
            newer = replaced[number]
            reason = f"revision {newer.revision} in {newer.path} replaces it"
        elif part.key in written:
            reason = f"the same mark is written from {written[part.key]}"
        else:
            written[part.key] = part.path
        reasons.append(reason)
    return tuple(reasons)


def failing(findings: Iterable[Finding]) -> set[tuple[str, str]]:
    """Return file and mark of each part with an error that no waiver accepts; mark "" for all."""
    return {
        (f.span.path, f.mark) for f in findings if f.severity is Severity.ERROR and f.waived is None
    }
