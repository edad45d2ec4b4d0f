"""A cutting plan as a file that a command names, and the machine that it was made for."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from translator.commands._console import remark
from translator.source import printable

if TYPE_CHECKING:
    from translator.bars.plan_model import Plan
    from translator.machines import Machine
    from translator.model import Placed

MOST_TOLD: Final = 20
"""Reasons why a plan and parts do not belong together that are told one by one."""


def read_plan(path: Path) -> "Plan":
    """Return the plan of a file.

    Raises:
        WorkError: when it can't be read or is none.
    """
    from translator.bars.plan_load import LARGEST_BYTES, load_plan
    from translator.batch.discover import reason, shown
    from translator.errors import WorkError
    from translator.source import Source

    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise WorkError(f"can't read {shown(path)}: {reason(error)}") from error
    plan, findings = load_plan(Source(path=shown(path), data=data))
    for finding in findings:
        span = finding.span
        remark(printable(f"{span.path}:{span.line}: {finding.severity.value}: {finding.message}"))
    if plan is None:
        raise WorkError(f"{shown(path)} is no cutting plan that can be followed")
    return plan


def machine_for(plan: "Plan", profiles: "Sequence[Machine]", *, is_bad: bool) -> "Machine":
    """Return the machine that a plan names, else the first that was given.

    Raises:
        WorkError: when a profile is not understood.
    """
    from translator.errors import WorkError

    if is_bad or not profiles:
        raise WorkError("a machine profile is not understood: see above")
    return next((each for each in profiles if each.name == plan.machine), profiles[0])


def hold_together(path: Path, plan: "Plan", parts: "list[Placed]", machine: "Machine") -> None:
    """Refuse a plan that was made of other parts or for another machine.

    Raises:
        WorkError: when they do not belong together; the reasons are told on the side.
    """
    from translator.bars.program_batch import strangers
    from translator.errors import WorkError

    wrong = list(strangers(plan, parts, machine))
    for sentence in wrong[:MOST_TOLD]:
        remark(printable(sentence))
    if wrong:
        raise WorkError(f"{path.name} and what it is to be made of do not belong together")
