"""``backmark bars``: what is printed for the bars of a plan, all of it at once."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from translator.commands._console import say
from translator.commands._delivery import Wanted, shared_options, take
from translator.commands._labels import (
    LabelOptions,
    label_options,
    labels_html,
    not_too_many,
    sheet_size,
)
from translator.commands._lists import machines_of, ready_parts
from translator.commands._options import machines_option, path_option
from translator.commands._plan_file import hold_together, machine_for, read_plan
from translator.commands.check import exit_code
from translator.findings import CAUTION
from translator.source import printable

if TYPE_CHECKING:
    from translator.bars.program_model import Program


@click.command("bars", short_help="Write bar list, setup sheet, labels and estimate of a plan.")
@click.argument("plan_file", type=click.Path(path_type=Path), metavar="PLAN")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@machines_option(
    "Profile of the machine that the plan was made for (JSON); else that of the settings"
    " file by the plan's name of it."
)
@path_option(
    "--out",
    "DIR",
    "Folder for the lists.",
    required=True,
)
@label_options
@shared_options
def bars(
    wanted: Wanted, asked: LabelOptions, plan_file: Path, machines: tuple[Path, ...], out: Path
) -> int:
    """Write what the shop prints for the bars of a cutting plan.

    PLAN is the JSON document of `backmark plan`, PATH... the part files that it was made from.
    Written are bars.html (each bar to scale, loading order, totals), setup (tools, gauges,
    stamps, first pieces; html, txt, csv), labels (with bar, heat and release; html, csv) and the
    estimate (clocked stop by stop; html, txt, json, csv). Print the html files from a browser.
    """
    from translator.bars.labels import labels_csv, planned_labels
    from translator.bars.papers import papers, workable
    from translator.bars.program_batch import programs_of
    from translator.batch.write import write_all

    sheet_size(asked)
    plan = read_plan(plan_file)
    delivery = take(wanted)
    profiles, is_bad = machines_of(delivery, machines)
    machine = machine_for(plan, profiles, is_bad=is_bad)
    ready = ready_parts(delivery)
    hold_together(plan_file, plan, ready, machine)
    programs = list(programs_of(plan, ready, machine))
    cut = workable(plan, programs)
    not_too_many(sum(len(bar.pieces) for bar in cut))
    labels = list(planned_labels(cut, ready, asked.each, asked.release, asked.most))
    files = [
        *papers(plan, programs, ready, machine),
        ("labels.csv", labels_csv(labels)),
        ("labels.html", labels_html(labels, asked)),
    ]
    names = write_all(out, sorted(files))
    say(_summary(names, out, programs, len(labels)))
    return max(exit_code(delivery, None), int(any(one.refused for one in programs)))


COMMAND = bars


def _summary(names: tuple[str, ...], out: Path, programs: "list[Program]", labels: int) -> str:
    lines = [f"{len(programs)} bars, {labels} labels; written in {out.as_posix()}:"]
    lines += [f"  {name}" for name in names]
    lines += [
        f"{one.bar_id} can't be made as planned: {each.message}; {each.remedy}"
        for one in programs
        for each in one.refused
    ]
    return "\n".join([printable(line) for line in lines] + ["", CAUTION])
