"""``backmark setup``: what a machine must have in it before a batch is run."""

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from translator.commands._delivery import Wanted, shared_options, take
from translator.commands._lists import deliver, machines_of, ready_parts
from translator.commands._options import machines_option, path_option
from translator.commands.check import exit_code

if TYPE_CHECKING:
    from translator.bars.setup_model import Setup

FORMATS: Final = ("text", "csv", "html")


@click.command("setup", short_help="Say which tools, gauges and stamps a batch needs.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@machines_option("Profile of the machine (JSON); else that of the settings file.")
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    default="text",
    help="text (default), csv (a line for each tool), or html (a sheet to print).",
)
@path_option(
    "--out",
    "FILE",
    "Write the sheet into a file; else it is printed.",
)
@shared_options
def setup(wanted: Wanted, machines: tuple[Path, ...], form: str, out: Path | None) -> int:
    """Say what a machine needs for a batch of parts before it is run.

    Tools by station with their size, side and hits, those that must be fetched from the crib;
    gauges from the heel and as the machine shows them; letters of the stamp set; steel to load;
    and what to measure on the first piece of each mark. Parts with errors are left out.
    """
    from translator.bars.setup_gather import of_parts
    from translator.bars.setup_sheet import setup as sheet

    delivery = take(wanted)
    profiles, is_bad = machines_of(delivery, machines)
    if len(profiles) > 1:
        named = ", ".join(profile.name for profile in profiles)
        raise click.UsageError(f"a setup sheet is of one machine; name one of {named}")
    ready = ready_parts(delivery)
    for profile in profiles:
        deliver(spelled(sheet(profile, of_parts(profile, ready)), form), out)
    return max(exit_code(delivery, None), int(is_bad))


COMMAND = setup


def spelled(value: "Setup", form: str) -> bytes:
    """Return a setup sheet in a format."""
    from translator.bars.setup_text import setup_csv, setup_page, setup_text

    if form == "csv":
        return setup_csv(value)
    text = setup_page(value) if form == "html" else setup_text(value)
    return text.encode("utf-8", "backslashreplace")
