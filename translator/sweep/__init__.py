"""A whole delivery, file by file and in as many processes as wished, never held in memory.

It gives what ``pipeline.examine`` gives, by the same stages. What a file leaves to conventions
is settled by the whole delivery; so that no file is read twice, the settings that its first files
settle are taken at first, and the few files that they turn out wrong for are read again.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from msgspec import Struct

from translator.batch.outcome import Outcome
from translator.batch.pool import each
from translator.batch.record import FileRecord
from translator.batch.settling import settle_each
from translator.batch.staging import discard
from translator.conventions import Conventions
from translator.findings import Finding
from translator.pipeline import conclude
from translator.sweep.begun import Begun, guesses_of
from translator.sweep.task import Orders, Task, benches_of, pieces_of
from translator.sweep.work import UNREADABLE, worked

__all__ = ["UNREADABLE", "Orders", "Swept", "Task", "sweep"]


class Swept(Struct, frozen=True, kw_only=True):
    """A delivery after a sweep: what came out, and the record of each file in order."""

    outcome: Outcome
    records: tuple[FileRecord, ...]


def sweep(tasks: Iterable[Task], said: Iterable[Finding], orders: Orders) -> Swept:
    """Take a delivery from its files to findings, and make what is wished of its parts.

    A file that can't be read, or at which this program fails, is a finding on that file; the
    others go on. When it is the only one, the exception comes out instead.

    Args:
        tasks: the files of the delivery.
        said: findings that were made before (on paths and settings).
        orders: what holds for all of them.

    Raises:
        WorkError: when a process of the pool died, the disk refuses, or the only file can't
            be read.
    """
    delivery = sorted(tasks, key=lambda task: task.file.name)
    guesses, begun = guesses_of(delivery)
    records = list(_records(delivery, range(len(delivery)), guesses, orders, begun))
    given = [task.conventions for task in delivery]
    chosen, settled = settle_each(given, [record.evidence for record in records])
    again = [n for n, own in enumerate(chosen) if records[n].conventions != own]
    exact = {n: {_writer(records[n]): chosen[n]} for n in again}
    if orders.making is not None:
        for number in again:
            discard(orders.making.waiting, (one.hidden for one in records[number].ready))
    for number, record in zip(again, _records(delivery, again, exact, orders, begun), strict=True):
        records[number] = record
    benches = benches_of(delivery, orders.machines)
    outcome = conclude(
        records,
        [benches[id(task.practice)] for task in delivery],
        [task.decisions for task in delivery],
        said=[*said, *settled],
        as_of=orders.as_of,
        bill=orders.bill,
    )
    return Swept(outcome=outcome, records=tuple(records))


def _records(
    delivery: Sequence[Task],
    numbers: Sequence[int],
    guesses: Mapping[int, Mapping[str, Conventions]],
    orders: Orders,
    begun: Mapping[int, Begun],
) -> Iterator[FileRecord]:
    """Yield the record of each file, in the order of the numbers."""
    is_alone = len(delivery) == 1
    pieces = pieces_of(delivery, numbers, guesses, orders)
    here = begun if orders.workers is None else {}
    work = partial(worked, begun=here, is_alone=is_alone) if orders.workers is None else worked
    for records in each(work, pieces, orders.workers, orders.jobs):
        yield from records
        orders.done(len(records))


def _writer(record: FileRecord) -> str:
    return "" if record.evidence is None else record.evidence.writer
