"""What programs of a plan come to, in a few lines for a person."""

import textwrap
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from translator.bars.program_model import Program, Refused
from translator.findings import CAUTION
from translator.machines.reasons import decimal
from translator.source import printable

WIDTH: Final = 100
"""Columns of a text."""

MOST_SHOWN: Final = 200
"""Bars that are told one by one."""


def programs_text(programs: Sequence[Program]) -> str:
    """Return a line for each bar, why bars have no program, and the caution."""
    lines = [_line(program) for program in programs[:MOST_SHOWN]]
    if len(programs) > MOST_SHOWN:
        lines.append(f"and {len(programs) - MOST_SHOWN} bars more")
    for program in programs:
        lines += _refusals(program)
    refused = sum(1 for program in programs if program.refused)
    made = f"{_count(len(programs) - refused, 'bar')} programmed"
    lines.append(f"{made}, {refused} refused" if refused else made)
    rows = [row for line in lines for row in _wrapped(printable(line))]
    return "\n".join([*rows, "", *textwrap.wrap(CAUTION, WIDTH), ""])


def _wrapped(line: str) -> list[str]:
    return textwrap.wrap(line, WIDTH, subsequent_indent="    ", break_on_hyphens=False)


def _line(program: Program) -> str:
    marks = Counter(piece.mark for piece in program.pieces)
    pieces = ", ".join(f"{count} {mark}" for mark, count in marks.items())
    if program.refused:
        return f"{program.bar_id}  refused  {pieces}"
    kinds = Counter(step.kind for step in program.steps)
    regrips = sum(step.kind == "grip" and step.is_regrip for step in program.steps)
    second = sum(len(piece.second_work) for piece in program.pieces)
    said = [f"{decimal(program.length_mm, 1)} mm", _count(kinds["stop"], "stop")]
    said += [_count(regrips, "regrip")] if regrips else []
    said += [_count(kinds["tool_change"], "tool change")] if kinds["tool_change"] else []
    said += [f"{_count(second, 'task')} left to do by hand"] if second else []
    return f"{program.bar_id}  {', '.join(said)}  {pieces}"


def _refusals(program: Program) -> Iterator[str]:
    for fault in program.refused:
        yield f"{program.bar_id}: {_place(fault)}{fault.message} ({fault.rule}); {fault.remedy}"


def _place(fault: Refused) -> str:
    return "" if fault.source is None else f"{fault.source.file}:{fault.source.line}: "


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
