"""The road, and the only module that names all its stages.

bytes -> tree -> (delivery: settle conventions) -> Part -> findings -> files
"""

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from translator.batch.choose import refusals
from translator.batch.input import Input
from translator.batch.outcome import Outcome
from translator.batch.outputs import Emitted, emit
from translator.batch.record import FileRecord
from translator.batch.settling import settle_each
from translator.batch.verdict import verdict_of
from translator.conventions import Conventions, Evidence
from translator.errors import stage
from translator.findings import Finding
from translator.model import Placed
from translator.rules import rules
from translator.rules._bill import Bill
from translator.rules._decisions import Decisions
from translator.rules._judged import Bench, judge
from translator.rules._run import benched, together

if TYPE_CHECKING:
    from translator.machines import Machine

__all__ = ["Emitted", "Input", "Outcome", "begin", "conclude", "emit", "examine", "finish"]

Value = TypeVar("Value")


def examine(
    inputs: Iterable[Input],
    *,
    said: Iterable[Finding] = (),
    as_of: str | None = None,
    machines: "Sequence[Machine]" = (),
    bill: Bill | None = None,
) -> Outcome:
    """Take a delivery from bytes to findings, in memory and one file after the other.

    Args:
        inputs: the files of the delivery.
        said: findings that were made before (on paths and settings).
        as_of: the day by which dated waivers are judged, or None.
        machines: machines that the parts may be made on.
        bill: what the parts are held against.
    """
    delivery = sorted(inputs, key=lambda i: i.source.path)
    begun = [begin(item) for item in delivery]
    chosen, settled = settle_each([i.conventions for i in delivery], [said for _, said in begun])
    which, benches = benched([i.practice for i in delivery], rules(), machines)
    records = [
        finish(item, *start, own, benches[number])
        for item, start, own, number in zip(delivery, begun, chosen, which, strict=True)
    ]
    return conclude(
        records,
        [benches[number] for number in which],
        [item.decisions for item in delivery],
        said=[*said, *settled],
        as_of=as_of,
        bill=bill,
    )


def begin(item: Input) -> tuple[Any, Evidence | None]:
    """Return the tree of one file, and what it says of open conventions."""
    tree = _step("parsing", item, item.reader.parse, item.source)
    return tree, _step("weighing", item, item.reader.evidence, tree)


def finish(  # noqa: PLR0913, PLR0917 - each stage hands its own thing on
    item: Input,
    tree: Any,  # noqa: ANN401 - each reader has its own
    evidence: Evidence | None,
    conventions: Conventions,
    bench: Bench,
    keep: Callable[[Placed], bool] = lambda _: True,
) -> FileRecord:
    """Take one file from its tree to what the rules say of each part alone.

    Args:
        item: the file.
        tree: from ``begin``.
        evidence: from ``begin``.
        conventions: settled; what it is read with.
        bench: what its parts are judged by.
        keep: whether a part is still wanted itself.
    """
    reading = _step("lowering", item, item.reader.lower, tree, conventions)
    with stage("judging", item.source.path):
        judged = tuple(judge(placed, bench, keep=keep(placed)) for placed in reading.parts)
    return FileRecord(
        path=item.source.path,
        conventions=conventions,
        evidence=evidence,
        not_ours=reading.not_ours,
        findings=reading.findings,
        parts=judged,
    )


def conclude(  # noqa: PLR0913 - each stage hands its own thing on
    records: Sequence[FileRecord],
    under: Sequence[Bench],
    beside: Sequence[tuple[Decisions, ...]],
    *,
    said: Iterable[Finding],
    as_of: str | None,
    bill: Bill | None = None,
) -> Outcome:
    """Look at all parts together, and say what there is to say of the delivery.

    Args:
        records: the files, sorted by path.
        under: for each file what its parts were judged by.
        beside: for each file the side files it comes under.
        said: findings on paths, settings and conventions.
        as_of: the day by which dated waivers are judged, or None.
        bill: what the parts are held against.
    """
    judged = tuple(part for record in records for part in record.parts)
    own = [bench for record, bench in zip(records, under, strict=True) for _ in record.parts]
    decided = [each for record, each in zip(records, beside, strict=True) for _ in record.parts]
    checked = together(
        judged,
        own,
        rules(),
        as_of=as_of,
        decisions=decided,
        otherwise=under[0] if under else None,
        bill=bill,
    )
    heard = [*said, *(f for record in records for f in record.findings)]
    heard += [finding for found in checked.findings for finding in found]
    heard += [*checked.remarks, *checked.of_bill]
    return Outcome(
        parts=tuple(part.placed for part in judged if part.placed is not None),
        judged=judged,
        refused=refusals(checked.digests, heard),
        verdict=verdict_of(records, (bench.practice for bench in own), checked, heard),
    )


def _step(doing: str, item: Input, step: Callable[..., Value], *given: object) -> Value:
    with stage(doing, item.source.path):
        return step(*given)
