"""``backmark check``: say what is wrong, and where."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from translator.commands._console import has_colour, say
from translator.commands._delivery import Delivery, take
from translator.commands._options import (
    SEVERITIES,
    Run,
    Wanted,
    machines_option,
    path_option,
    run_options,
    shared_options,
)

if TYPE_CHECKING:
    from translator.reports import RuleInfo


@click.command("check", short_help="Check part files; say each fault with its place.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--format",
    "form",
    default="text",
    metavar="FORMAT",
    help="text (default), json, sarif, junit, github or html (a page with pictures).",
)
@path_option(
    "--out",
    "FILE",
    "Write the report into a file; else it is printed.",
)
@click.option(
    "--fail-on",
    type=click.Choice(SEVERITIES),
    help="Least severity that gives exit code 1; default error.",
)
@machines_option("Profile of a machine (JSON); may be given again. Says what each can make.")
@path_option(
    "--bill",
    "FILE",
    "Bill of pieces (CSV) that the parts are held against; [bill] may name its columns.",
)
@run_options
@shared_options
def check(  # noqa: PLR0913, PLR0917 - one for each option
    wanted: Wanted,
    run: Run,
    form: str,
    out: Path | None,
    fail_on: str | None,
    machines: tuple[Path, ...],
    bill: Path | None,
) -> int:
    """Check part files and folders of them; say each fault with its place.

    With machines, a table says for each part which of them can make it; the faults told are
    those of the machine that serves the part best.

    With a bill, marks that are missing, not asked for, or differ in quantity, section, length,
    grade, revision or mass are told at the bill's cell.

    Silent in a pipe when there is nothing to say. '-' reads standard input.
    """
    if form == PAGE:
        delivery = take(wanted, machines=machines, bill=bill)
    else:
        from translator.commands._sweep import look_through

        delivery = look_through(wanted, run, machines, bill)
    text = _page(delivery) if form == PAGE else render(delivery, form)
    if out is not None:
        from translator.batch.write import write_all

        write_all(out.parent, [(out.name, text.encode("utf-8", "backslashreplace"))])
    elif form != "text" or sys.stdout.isatty() or _has_something_to_say(delivery):
        say(text)
    return exit_code(delivery, fail_on)


COMMAND = check

PAGE: Final = "html"
"""The one format that draws parts, and so is more than a report of the verdict."""


def render(delivery: Delivery, form: str) -> str:
    """Return the report of a delivery in a format.

    Raises:
        UnknownNameError: when there is no report of that name.
    """
    import shutil

    from translator.errors import UnknownNameError
    from translator.reports import ReportOptions, reports

    options = ReportOptions(
        colour=has_colour(sys.stdout),
        width=shutil.get_terminal_size().columns if sys.stdout.isatty() else 100,
        source=delivery.sources.get,
        rules=rule_infos() if form == "sarif" else (),  # it alone describes the rules
    )
    for report in reports():
        if report.name == form:
            return report.render(delivery.outcome.verdict, options)
    known = ", ".join((*(report.name for report in reports()), PAGE))
    raise UnknownNameError(f"there is no report {form!r}; there are {known}")


def _page(delivery: Delivery) -> str:
    """Return the review page of a delivery."""
    from translator.pages.review import Review
    from translator.pages.review import render as page

    return page(
        Review(
            verdict=delivery.outcome.verdict,
            parts=delivery.outcome.parts,
            refused=delivery.outcome.refused,
            sources=delivery.sources,
            conventions=delivery.conventions,
            rules=rule_infos(),
        )
    )


def rule_infos() -> "tuple[RuleInfo, ...]":
    """Return what reports may say of each rule."""
    from translator.reports import RuleInfo
    from translator.rules import rules
    from translator.rules._catalogue import documentation

    return tuple(
        RuleInfo(
            name=rule.name,
            title=rule.title,
            severity=rule.severity,
            reference=rule.reference,
            text=documentation(rule),
        )
        for rule in rules()
    )


def exit_code(delivery: Delivery, fail_on: str | None) -> int:
    """Return 1 when a finding that no waiver accepts weighs as much as ``fail_on``, else 0.

    Of several settings files the strictest counts. Where this program failed at a file, 2.
    """
    from translator.findings import PROGRAM_FAULT, Severity

    if any(found.rule == PROGRAM_FAULT for found in delivery.outcome.verdict.findings):
        return 2

    set_ = [own.fail_on for own in delivery.configurations if own.fail_on is not None]
    least = max((s.rank for s in set_), default=Severity.ERROR.rank)
    return int(_worst(delivery) <= (Severity(fail_on).rank if fail_on else least))


def _has_something_to_say(delivery: Delivery) -> bool:
    verdict = delivery.outcome.verdict
    return bool(verdict.findings or verdict.not_ours or verdict.fits or not verdict.files)


def _worst(delivery: Delivery) -> int:
    found = delivery.outcome.verdict.findings
    return min((f.severity.rank for f in found if f.waived is None), default=99)
