"""The programs of all bars of a plan, and whether plan, parts and machine belong together."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from translator.bars.fingerprint import fingerprint
from translator.bars.plan_model import Plan, PlannedMark
from translator.bars.program import part_key, program_of
from translator.bars.program_document import FILE_ENDING, program_json
from translator.bars.program_model import Program
from translator.lengths.characters import shown
from translator.machines.profile import Machine
from translator.machines.reasons import length_words
from translator.model import Placed


def programs_of(plan: Plan, parts: Iterable[Placed], machine: Machine) -> Iterator[Program]:
    """Yield the program of each bar, in the order of loading."""
    known = tuple(parts)
    for bar in plan.bars:
        yield program_of(bar, known, machine)


def strangers(plan: Plan, parts: Sequence[Placed], machine: Machine) -> Iterator[str]:
    """Yield why a plan, parts and a machine do not belong together, each a sentence.

    Parts that the plan does not know are no matter: a bar says what lies on it.
    """
    if plan.machine != machine.name:
        yield f"the plan was made for {shown(plan.machine)}, the machine is {shown(machine.name)}"
    numbers = Counter(bar.number for bar in plan.bars)
    yield from (f"{count} bars have the number {n}" for n, count in numbers.items() if count > 1)
    known = {part_key(placed): placed for placed in parts}
    for mark in plan.marks:
        if mark.planned:
            yield from _changed(mark, known.get((mark.order, mark.mark, mark.revision)))


def _changed(mark: PlannedMark, placed: Placed | None) -> Iterator[str]:
    name = shown(mark.mark) if mark.revision is None else f"{shown(mark.mark)} {mark.revision}"
    if placed is None:
        yield f"the plan has {mark.planned} of {name}, which is not among the parts"
    elif mark.length_mm != placed.part.length_mm:
        part = placed.part
        now, then = (length_words(part, mm) for mm in (part.length_mm, mark.length_mm))
        yield f"{name} is {now} long, {then} in the plan"
    elif mark.fingerprint not in (None, fingerprint(placed.part)):
        yield f"{name} was changed after the plan was made"


def program_files(programs: Iterable[Program]) -> Iterator[tuple[str, bytes]]:
    """Yield name and bytes of each program's file.

    One that can't be made has a file too, which says why and has no steps: an older program
    of that bar must not stay in its place.
    """
    for program in programs:
        text = program_json(program)
        yield f"{program.bar_id}{FILE_ENDING}", text.encode("utf-8", "backslashreplace")
