"""``backmark program``: what a machine does to each bar of a plan, stop by stop."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from translator.commands._console import remark, say
from translator.commands._delivery import Wanted, shared_options, take
from translator.commands._lists import machines_of, ready_parts
from translator.commands.check import exit_code
from translator.source import printable

if TYPE_CHECKING:
    from translator.bars.plan_model import Plan

MOST_TOLD = 20
"""Reasons why a plan and parts do not belong together that are told one by one."""


@click.command("program", short_help="Write the machine-neutral program of each bar of a plan.")
@click.argument("plan_file", type=click.Path(path_type=Path), metavar="PLAN")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--machine",
    "machines",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Profile of the machine that the plan was made for (JSON); else that of the settings"
    " file by the plan's name of it.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    required=True,
    help="Folder for the programs: bar-001.program.json and so on.",
)
@shared_options
def program(wanted: Wanted, plan_file: Path, machines: tuple[Path, ...], out: Path) -> int:
    """Write the program of each bar of a cutting plan: stops, cuts, grips, tools, stamps.

    PLAN is the JSON document of `backmark plan`, PATH... the part files that it was made from;
    a part that was changed since is refused. The programs are open JSON (backmark/program), no
    control's language: a postprocessor turns them into one. A bar that can't be made as planned
    gets a file without steps that says why and what would help, and the exit code is 1.
    """
    from translator.bars.program_batch import program_files, programs_of, strangers
    from translator.bars.program_text import programs_text
    from translator.batch.write import write_all
    from translator.errors import WorkError

    plan = _plan(plan_file)
    delivery = take(wanted, out)
    profiles, is_bad = machines_of(delivery, machines)
    if is_bad:
        raise WorkError("a machine profile is not understood: see above")
    named = [profile for profile in profiles if profile.name == plan.machine]
    machine = (named or list(profiles))[0]
    ready = ready_parts(delivery)
    wrong = list(strangers(plan, ready, machine))
    if wrong:
        for sentence in wrong[:MOST_TOLD]:
            remark(printable(sentence))
        raise WorkError(f"{plan_file.name} and what it is to be made of do not belong together")
    made = list(programs_of(plan, ready, machine))
    names = write_all(out, program_files(made))
    say(programs_text(made))
    _tell_older(out, names)
    return max(exit_code(delivery, None), int(any(one.refused for one in made)))


COMMAND = program


def _plan(path: Path) -> "Plan":
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


def _tell_older(out: Path, names: tuple[str, ...]) -> None:
    """Name the programs of earlier plans that are still there: nobody may run one by mistake."""
    from translator.bars.program_document import FILE_ENDING

    older = sorted(p.name for p in out.glob(f"*{FILE_ENDING}") if p.name not in names)
    if older:
        remark(printable(f"older programs still there, not of this plan: {', '.join(older)}"))
