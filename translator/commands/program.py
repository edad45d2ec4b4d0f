"""``backmark program``: what a machine does to each bar of a plan, stop by stop."""

from pathlib import Path

import click

from translator.commands._console import remark, say
from translator.commands._delivery import Wanted, shared_options
from translator.commands._lists import machines_of
from translator.commands._options import machines_option, path_option
from translator.commands._plan_file import hold_together, machine_for, read_plan
from translator.commands._plan_inputs import parts_of
from translator.commands.check import exit_code
from translator.source import printable


@click.command("program", short_help="Write the machine-neutral program of each bar of a plan.")
@click.argument("plan_file", type=click.Path(path_type=Path), metavar="PLAN")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@machines_option(
    "Profile of the machine that the plan was made for (JSON); else that of the settings"
    " file by the plan's name of it."
)
@path_option(
    "--out",
    "DIR",
    "Folder for the programs: bar-001.program.json and so on.",
    required=True,
)
@shared_options
def program(wanted: Wanted, plan_file: Path, machines: tuple[Path, ...], out: Path) -> int:
    """Write the program of each bar of a cutting plan: stops, cuts, grips, tools, stamps.

    PLAN is the JSON document of `backmark plan`; PATH... are the part files, or the one release,
    that it was made from: a part that was changed since is refused. The programs are open JSON
    (backmark/program), no control's language: a postprocessor turns them into one. A bar that
    can't be made as planned gets a file without steps that says why and what would help, and
    the exit code is 1.
    """
    from translator.bars.program_batch import program_files, programs_of
    from translator.bars.program_text import programs_text
    from translator.batch.write import write_all

    plan = read_plan(plan_file)
    parts = parts_of(wanted, out)
    profiles, is_bad = machines_of(parts.delivery, machines)
    machine = machine_for(plan, profiles, is_bad=is_bad)
    hold_together(plan_file, plan, list(parts.ready), machine)
    made = list(programs_of(plan, parts.ready, machine))
    names = write_all(out, program_files(made))
    say(programs_text(made))
    _tell_older(out, names)
    found = 0 if parts.is_released else exit_code(parts.delivery, None)
    return max(found, int(any(one.refused for one in made)))


COMMAND = program


def _tell_older(out: Path, names: tuple[str, ...]) -> None:
    """Name the programs of earlier plans that are still there: nobody may run one by mistake."""
    from translator.bars.program_document import FILE_ENDING

    older = sorted(p.name for p in out.glob(f"*{FILE_ENDING}") if p.name not in names)
    if older:
        remark(printable(f"older programs still there, not of this plan: {', '.join(older)}"))
