"""The road, and the only module that names all its stages.

bytes -> tree -> (delivery: settle conventions) -> Part -> findings -> files
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from translator.batch.choose import refusals
from translator.batch.outputs import written
from translator.batch.settling import settle_each
from translator.batch.verdict import verdict_of
from translator.conventions import Conventions
from translator.emitters import EmitOptions, Emitter
from translator.findings import Finding, Verdict
from translator.model import Placed
from translator.readers import Reader
from translator.rules import rules
from translator.rules._beside import Terms
from translator.rules._decisions import Decisions
from translator.rules._practice import Practice
from translator.rules._run import decide, run
from translator.source import Source

if TYPE_CHECKING:
    from translator.machines import Machine

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One source, the reader that claims it, and the settings it comes under."""

    source: Source
    reader: Reader
    conventions: Conventions
    practice: Practice = field(default_factory=Practice)
    decisions: tuple[Decisions, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A delivery after the road.

    Attributes:
        parts: all parts that could be read whole, sorted by file, then in the file's order.
        refused: for each part, why it may not be written; "" when it may.
        verdict: what was looked at, and all findings in order.
    """

    parts: tuple[Placed, ...]
    refused: tuple[str, ...]
    verdict: Verdict


def examine(
    inputs: Iterable[Input],
    *,
    said: Iterable[Finding] = (),
    as_of: str | None = None,
    machines: "Sequence[Machine]" = (),
) -> Outcome:
    """Take a delivery from bytes to findings.

    Args:
        inputs: the files of the delivery.
        said: findings that were made before (on paths and settings).
        as_of: the day by which dated waivers are judged, or None.
        machines: machines that the parts may be made on.
    """
    delivery = sorted(inputs, key=lambda i: i.source.path)
    trees = [_step("parsing", i, i.reader.parse, i.source) for i in delivery]
    pairs = tuple(zip(delivery, trees, strict=True))
    evidence = [_step("weighing", i, i.reader.evidence, tree) for i, tree in pairs]
    chosen, settled = settle_each([i.conventions for i in delivery], evidence)
    readings = [
        _step("lowering", i, i.reader.lower, tree, own)
        for (i, tree), own in zip(pairs, chosen, strict=True)
    ]
    read = tuple(zip(delivery, readings, strict=True))
    parts = tuple(placed for _, reading in read for placed in reading.parts)
    practices = tuple(i.practice for i, reading in read for _ in reading.parts)
    beside = tuple(i.decisions for i, reading in read for _ in reading.parts)
    checked = run(parts, rules(), practices=practices, as_of=as_of, machines=machines)
    checked = decide(parts, checked, beside, Terms.of(rules(), as_of))
    heard = [*said, *settled, *(f for reading in readings for f in reading.findings)]
    heard += [*(finding for found in checked.findings for finding in found), *checked.remarks]
    verdict = verdict_of([(i.source.path, r) for i, r in read], practices, checked, heard)
    return Outcome(parts=parts, refused=refusals(parts, checked.digests, heard), verdict=verdict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Emitted:
    """The files of one part, in memory, and what they could not carry.

    ``made`` holds the title of each file's format.
    """

    files: tuple[tuple[str, bytes], ...]
    made: tuple[str, ...]
    findings: tuple[Finding, ...]


def emit(
    placed: Placed,
    stem: str,
    formats: Sequence[Emitter],
    options: EmitOptions,
    *,
    verify: bool = False,
) -> Emitted:
    """Write one part in some formats, in memory.

    What a format has no words for is a note; a format that would change the part is an error
    finding and no file. With ``verify`` each file is read back, and a difference is an error.
    """
    files: list[tuple[str, bytes]] = []
    made: list[str] = []
    findings: list[Finding] = []
    for emitter in formats:
        with _stage(f"writing {emitter.name}", placed.places[""].path):
            new, found = written(placed, stem, emitter, options, verify=verify)
            files += new
            made += [emitter.title] * len(new)
            findings += found
    return Emitted(files=tuple(files), made=tuple(made), findings=tuple(findings))


def _step(doing: str, item: Input, step: Callable[..., Value], *given: object) -> Value:
    with _stage(doing, item.source.path):
        return step(*given)


@contextmanager
def _stage(doing: str, path: str) -> Iterator[None]:
    """Name the stage and the file in an exception that should never have come."""
    try:
        yield
    except Exception as error:
        error.add_note(f"while {doing} {path}")
        raise
