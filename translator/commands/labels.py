"""``backmark labels``: a label for every piece or bundle, to print or as a table."""

from pathlib import Path
from typing import Final

import click

from translator.commands._delivery import Wanted, shared_options, take
from translator.commands._labels import (
    LabelOptions,
    label_options,
    labels_html,
    not_too_many,
    sheet_size,
)
from translator.commands._lists import deliver, ready_parts
from translator.commands._options import path_option
from translator.commands.check import exit_code

FORMATS: Final = ("html", "csv")


@click.command("labels", short_help="Make labels for pieces or bundles.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--format", "form", type=click.Choice(FORMATS), default="html", help="html (default) or csv."
)
@path_option(
    "--out",
    "FILE",
    "Write the labels into a file; else they are printed on the terminal.",
)
@label_options
@shared_options
def labels(wanted: Wanted, asked: LabelOptions, form: str, out: Path | None) -> int:
    """Make labels: mark, order, drawing, revision, which of how many, section, length, grade.

    Laid out on sheets of labels of any size, or on a roll, as a page to print from a browser;
    long marks are set smaller and broken, never cut off at the edge. As CSV for a printer that
    lays labels out itself. Parts with errors get none. For labels with bar and heat, plan the
    order and take `backmark bars`.
    """
    from translator.bars.labels import labels_csv, part_labels

    sheet_size(asked)
    delivery = take(wanted)
    ready = ready_parts(delivery)
    not_too_many(sum(p.part.quantity for p in ready) if asked.each == "piece" else len(ready))
    made = list(part_labels(ready, asked.each, asked.release, asked.most))
    deliver(labels_csv(made) if form == "csv" else labels_html(made, asked), out)
    return exit_code(delivery, None)


COMMAND = labels
