"""The files of a delivery before they are read, and what holds for all of them."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from msgspec import Struct, field
from msgspec.structs import replace

from translator.batch.discover import InputFile, load
from translator.batch.staging import Making
from translator.conventions import Conventions
from translator.rules import rules
from translator.rules._bill import Bill
from translator.rules._decisions import Decisions
from translator.rules._judged import Bench
from translator.rules._practice import Practice
from translator.source import Source

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from translator.machines import Machine

CHUNK_FILES: Final = 16
CHUNK_BYTES: Final = 30_000
"""What one piece of work holds: enough to be worth sending, little enough to keep all busy."""


class Task(Struct, frozen=True, kw_only=True):
    """One file of a delivery, not yet read.

    Attributes:
        file: the file.
        size: in bytes, as far as known; only for fair pieces of work.
        conventions: the settings given; "auto" leaves it to the evidence.
        practice: what its parts are judged by.
        decisions: the side files it comes under.
        source: its bytes, where it is no file that could be opened.
    """

    file: InputFile
    size: int = 0
    conventions: Conventions = field(default_factory=Conventions)
    practice: Practice = field(default_factory=Practice)
    decisions: tuple[Decisions, ...] = ()
    source: Source | None = None

    def load(self) -> Source:
        """Return its bytes.

        Raises:
            WorkError: when it can't be read.
        """
        return load(self.file) if self.source is None else self.source


class Orders(Struct, frozen=True, kw_only=True):
    """What holds for all files of a sweep.

    Attributes:
        machines: machines that the parts may be made on.
        as_of: the day by which dated waivers are judged, or None.
        cache: folder of what earlier runs found; None keeps nothing.
        making: what is to be made of the parts; None makes nothing.
        jobs: how many pieces are worked on at once.
        workers: where; None does it in this process.
        done: is told the number of files that are finished.
        bill: what the parts are held against.
    """

    machines: "tuple[Machine, ...]" = ()
    as_of: str | None = None
    cache: Path | None = None
    making: Making | None = None
    jobs: int = 1
    workers: "Executor | None" = None
    done: Callable[[int], None] = lambda _: None
    bill: Bill | None = None


class Piece(Struct, frozen=True, kw_only=True):
    """One piece of work, as it goes to another process.

    Attributes:
        tasks: files of the delivery, without their side files.
        numbers: of each of them in the delivery.
        guesses: for each, the settings to take by the writer of the file.
        named: for each, the marks that side files decide on.
        machines, cache, making: from the orders.
    """

    tasks: tuple[Task, ...]
    numbers: tuple[int, ...]
    guesses: tuple[Mapping[str, Conventions], ...]
    named: tuple[frozenset[str], ...]
    machines: "tuple[Machine, ...]"
    cache: Path | None
    making: Making | None


def pieces_of(
    delivery: Sequence[Task],
    numbers: Sequence[int],
    guesses: Mapping[int, Mapping[str, Conventions]],
    orders: Orders,
) -> Iterator[Piece]:
    """Cut a delivery into pieces of work that are worth sending and keep all busy."""
    cut: list[int] = []
    size = 0
    for number in numbers:
        if cut and (len(cut) == CHUNK_FILES or size + delivery[number].size > CHUNK_BYTES):
            yield _piece(delivery, cut, guesses, orders)
            cut, size = [], 0
        cut.append(number)
        size += delivery[number].size
    if cut:
        yield _piece(delivery, cut, guesses, orders)


def _piece(
    delivery: Sequence[Task],
    numbers: Sequence[int],
    guesses: Mapping[int, Mapping[str, Conventions]],
    orders: Orders,
) -> Piece:
    tasks = [delivery[number] for number in numbers]
    return Piece(
        tasks=tuple(replace(task, decisions=()) for task in tasks),
        numbers=tuple(numbers),
        guesses=tuple(guesses.get(number, {}) for number in numbers),
        named=tuple(frozenset(_named(task.decisions)) for task in tasks),
        machines=orders.machines,
        cache=orders.cache,
        making=orders.making,
    )


def _named(decisions: Iterable[Decisions]) -> Iterator[str]:
    for file in decisions:
        yield from (waiver.mark for waiver in file.waivers)
        yield from (substitution.mark for substitution in file.substitutions)


def benches_of(tasks: Iterable[Task], machines: "Sequence[Machine]") -> dict[int, Bench]:
    """Return the bench of each practice, by the identity of the practice."""
    benches: dict[int, Bench] = {}
    for task in tasks:
        if id(task.practice) not in benches:
            benches[id(task.practice)] = Bench.of(rules(), task.practice, machines)
    return benches
