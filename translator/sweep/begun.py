"""What the first files of a delivery leave open, asked before the others are read."""

from collections.abc import Sequence
from typing import Any, Final

from msgspec import Struct

from translator.batch.discover import reader_of
from translator.batch.settling import settle_each
from translator.conventions import Conventions, Evidence
from translator.pipeline import Input, begin
from translator.source import Source
from translator.sweep.task import Task

PILOT: Final = 32
"""So many files are asked first what their writers leave open."""


class Begun(Struct, frozen=True, kw_only=True):
    """A file whose bytes and tree are there."""

    item: Input
    tree: Any
    evidence: Evidence | None


def guesses_of(
    delivery: Sequence[Task],
) -> tuple[dict[int, dict[str, Conventions]], dict[int, Begun]]:
    """Return for each file, by number, what the first files settle for each writer; and these.

    Files under the same settings are pooled; of each pool the first few are asked.
    """
    pools: dict[Conventions, list[int]] = {}
    for number, task in enumerate(delivery):
        if reader_of(task.file).leaves_open:
            pools.setdefault(task.conventions, []).append(number)
    guesses: dict[int, dict[str, Conventions]] = {}
    asked: dict[int, Begun] = {}
    for given, numbers in pools.items():
        begun = {n: one for n in numbers[:PILOT] if (one := _asked(delivery[n])) is not None}
        heard = [one.evidence for one in begun.values() if one.evidence is not None]
        chosen, _ = settle_each([given] * len(heard), heard)
        guess = {one.writer: own for one, own in zip(heard, chosen, strict=True)}
        guesses |= dict.fromkeys(numbers, guess)
        asked |= begun
    return guesses, asked


def _asked(task: Task) -> Begun | None:
    """Begin a file; None where it fails, which is told when its turn comes."""
    try:
        return begin_file(task)
    except Exception:  # noqa: BLE001 - it is told when the file's turn comes
        return None


def begin_file(task: Task, source: Source | None = None) -> Begun:
    """Read one file to its tree; ``source`` is it where it is loaded already."""
    item = Input(
        source=task.load() if source is None else source,
        reader=reader_of(task.file),
        conventions=task.conventions,
        practice=task.practice,
    )
    tree, evidence = begin(item)
    return Begun(item=item, tree=tree, evidence=evidence)
