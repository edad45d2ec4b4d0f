"""Which parts of a delivery may be written, and why the others may not."""

from collections.abc import Iterable, Sequence

from translator.findings import Finding, Severity
from translator.model import Placed
from translator.rules._digest import Digest, superseded


def refusals(
    parts: Sequence[Placed], digests: tuple[Digest, ...], findings: Iterable[Finding]
) -> tuple[str, ...]:
    """Return, for each part, why no output may be written; "" when it may.

    A part with an error is refused, and so is each part of a file that has an error outside
    any part: it may reach them all (units, a default, a family). Of one mark only the newest
    revision is written, and only once.
    """
    errors = {
        (f.span.path, f.mark) for f in findings if f.severity is Severity.ERROR and f.waived is None
    }
    replaced = superseded(digests)
    written: dict[tuple[str | None, str], str] = {}
    reasons: list[str] = []
    for number, placed in enumerate(parts):
        path, mark, order = placed.places[""].path, placed.part.mark, placed.part.order
        reason = ""
        if (path, mark) in errors:
            reason = "it has errors"
        elif (path, "") in errors:
            reason = "its file has errors"
        elif number in replaced:
            newer = replaced[number]
            reason = f"revision {newer.revision} in {newer.path} replaces it"
        elif (order, mark) in written:
            reason = f"the same mark is written from {written[order, mark]}"
        else:
            written[order, mark] = path
        reasons.append(reason)
    return tuple(reasons)
