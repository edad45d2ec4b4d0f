"""``backmark compare``: what changed between two states of a delivery, in shop words."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click
from msgspec.structs import replace

from translator.commands._console import say
from translator.commands._options import STDIN, Wanted, path_option, shared_options

if TYPE_CHECKING:
    from translator.changes import Comparison

FORMS: Final = ("text", "json", "html")

FAIL_ON: Final = {
    "any": ("metal", "work", "paper"),
    "work": ("metal", "work"),
    "metal": ("metal",),
}
"""Weights of changes that give exit code 1."""


@click.command("compare", short_help="Say what changed between two revisions, in shop words.")
@click.argument("paths", nargs=2, metavar="OLD NEW")
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMS),
    default="text",
    help="text (default), json (old and new values in mm) or html (both drawings overlaid).",
)
@path_option(
    "--out",
    "FILE",
    "Write the comparison into a file; else it is printed.",
)
@click.option(
    "--fail-on",
    type=click.Choice(tuple(FAIL_ON)),
    default="any",
    help="Least change that gives exit code 1: any (default), work (steel, numbers, finish, or"
    " shape), metal (shape, marks added or removed). What could not be read counts as metal.",
)
@click.option(
    "--partial",
    is_flag=True,
    help="NEW holds only what was issued again: marks that it lacks are not told as removed.",
)
@path_option(
    "--old-config",
    "FILE",
    "Settings file of OLD alone; goes before --config.",
)
@path_option(
    "--new-config",
    "FILE",
    "Settings file of NEW alone; goes before --config.",
)
@shared_options
def compare(  # noqa: PLR0913, PLR0917 - one for each option
    wanted: Wanted,
    form: str,
    out: Path | None,
    fail_on: str,
    partial: bool,
    old_config: Path | None,
    new_config: Path | None,
) -> int:
    """Compare two files, folders, zip archives or releases, mark by mark.

    OLD and NEW each come under their own settings (backmark.toml found upward from each). One of
    them may be '-', standard input. Of a release the files it hands out are compared, and marks
    on hold are named.

    No change: the order of features, their ids, the unit (inch or mm), the name of a section, a
    shape told by cuts or corner by corner, another file format, and figures that differ by less
    than that format's last decimal. Parts are paired by order and mark; the same piece under
    another mark, or turned end for end, is told as that. Faults of the parts do not matter here:
    whatever can be read is compared, and what can't be read is named.

    Exit codes: 0 no change (with --fail-on: none that heavy), 1 something changed or could not be
    read, 2 the work could not be done, as when nothing of a side can be read. Silent in a pipe
    when there is no change.
    """
    from translator.changes import compare as compared
    from translator.commands._side import side

    if wanted.paths == (STDIN, STDIN):
        raise click.UsageError("only one of both sides can come from standard input")
    configs = (old_config or wanted.config, new_config or wanted.config)
    old, new = (
        side(replace(wanted, paths=(path,), config=config), name)
        for path, config, name in zip(wanted.paths, configs, ("OLD", "NEW"), strict=True)
    )
    comparison = compared(old, new, is_partial=partial)
    text = _render(comparison, form)
    if out is not None:
        from translator.batch.write import write_all

        write_all(out.parent, [(out.name, text.encode("utf-8", "backslashreplace"))])
    elif form != "text" or comparison.entries or sys.stdout.isatty():
        say(text)
    return int(comparison.worst in FAIL_ON[fail_on])


COMMAND = compare


def _render(comparison: "Comparison", form: str) -> str:
    if form == "json":
        from translator.changes.document import changes_document
        from translator.json_text import json_text

        return json_text(changes_document(comparison))
    if form == "html":
        from translator.changes.page import render as page

        return page(comparison)
    from translator.changes.text import render

    return render(comparison)
