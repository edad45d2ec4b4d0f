"""``backmark list``: the part list of a delivery, with masses, counts and sums."""

from pathlib import Path
from typing import Final

import click

from translator.commands._console import remark, say
from translator.commands._delivery import Wanted, shared_options, take
from translator.commands._options import path_option
from translator.commands.check import exit_code, render
from translator.findings import CAUTION
from translator.source import printable

FORMATS: Final = ("text", "csv", "json")


@click.command("list", short_help="List parts with masses, counts and sums by section.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    help="text (default), csv or json; else by the ending of --out.",
)
@path_option(
    "--out",
    "FILE",
    "Write the list into a file; else it is printed.",
)
@shared_options
def list_parts(wanted: Wanted, form: str | None, out: Path | None) -> int:
    """List the parts of files and folders: what each is, how many, what it weighs.

    A mark's older revisions are left out and named. Masses are as billed: published mass per
    metre times length. A CSV has a row for each mark and no row of sums; `backmark check
    --bill` takes it for a bill. Parts with errors are listed with the reason why they can't
    be handed on; the exit code is then 1.
    """
    from translator.batch.part_list import part_list
    from translator.batch.part_list_document import part_list_csv, part_list_json
    from translator.batch.part_list_text import part_list_text

    delivery = take(wanted)
    outcome = delivery.outcome
    digests = [judged.digest for judged in outcome.judged]
    found = part_list(outcome.parts, digests, outcome.refused)
    chosen = form or _by_ending(out)
    if chosen == "csv":
        data = part_list_csv(found)
    elif chosen == "json":
        data = part_list_json(found).encode("utf-8")
    else:
        data = part_list_text(found).encode("utf-8", "backslashreplace")
    code = exit_code(delivery, None)
    if code:
        remark(render(delivery, "text").removesuffix(f"{CAUTION}\n").rstrip("\n"))
    if chosen == "csv":
        for one in found.left_out:
            remark(printable(f"left out: {one.mark} revision {one.revision} of {one.file}"))
    if out is None:
        say(data.decode("utf-8"))
    else:
        from translator.batch.write import write_all

        write_all(out.parent, [(out.name, data)])
    return code


COMMAND = list_parts


def _by_ending(out: Path | None) -> str:
    ending = "" if out is None else out.suffix.lower().removeprefix(".")
    return ending if ending in FORMATS else "text"
