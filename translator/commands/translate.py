"""``backmark translate``: hand parts on in open formats."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from translator.commands._console import say
from translator.commands._delivery import SEVERITIES, Delivery, Wanted, shared_options, take
from translator.commands._made import LOSS, Made, summary
from translator.commands.check import exit_code, render
from translator.findings import CAUTION

if TYPE_CHECKING:
    from translator.emitters import Emitter
    from translator.model import Placed

PAPERS: Final = ("A4", "A3", "letter", "tabloid")


@click.command("translate", short_help="Check parts and hand them on in open formats.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--to", "formats", default="json,dxf", metavar="FORMATS", help="Formats; default json,dxf."
)
@click.option("--out", type=click.Path(path_type=Path), help="Folder for the files made.")
@click.option(
    "--fail-on",
    type=click.Choice(SEVERITIES),
    help="Least severity that gives exit code 1; default error.",
)
@click.option(
    "--verify",
    is_flag=True,
    help="Read each file back and compare it with the part; on any difference write nothing.",
)
@click.option(
    "--paper",
    type=click.Choice(PAPERS, case_sensitive=False),
    help="Paper of sheets; default the smallest usual one on which the drawing reads well.",
)
@shared_options
def translate(  # noqa: PLR0913, PLR0917 - one for each option
    wanted: Wanted,
    formats: str,
    out: Path | None,
    fail_on: str | None,
    verify: bool,
    paper: str | None,
) -> int:
    """Check part files, and write each part without errors in the formats asked for.

    Parts with errors are listed and not written.
    """
    emitters = _emitters(formats)
    delivery = take(wanted, out)
    folder = _folder(out or _set_folder(delivery), wanted.paths)
    made = Made()
    if not delivery.has_bad_settings:
        from translator.batch.write import write_all

        files = _files(delivery, emitters, made, verify=verify, paper=paper)
        made.names.extend(write_all(folder, files, lambda: not _differs(made)))
    _look_for_older(delivery, emitters, made, folder)
    delivery = _with(delivery, made)
    if delivery.outcome.verdict.findings:
        # The caution comes once, behind the summary.
        say(render(delivery, "text").removesuffix(f"{CAUTION}\n"))
    say(summary(delivery, made, folder))
    return exit_code(delivery, fail_on)


COMMAND = translate


def _emitters(names: str) -> "tuple[Emitter, ...]":
    from translator.emitters import emitters
    from translator.errors import UnknownNameError

    known = {emitter.name: emitter for emitter in emitters()}
    wanted = dict.fromkeys(name.strip() for name in names.split(",") if name.strip())
    for name in wanted:
        if name not in known:
            raise UnknownNameError(f"there is no format {name!r}; there are {', '.join(known)}")
    if not wanted:
        raise click.UsageError(f"--to names no format; there are {', '.join(known)}")
    return tuple(known[name] for name in wanted)


def _set_folder(delivery: Delivery) -> Path | None:
    folders = {own.out for own in delivery.configurations}
    return folders.pop() if len(folders) == 1 else None


def _folder(out: Path | None, paths: tuple[str, ...]) -> Path:
    if out is None:
        raise click.UsageError("name a folder for the files with --out, or out in backmark.toml")
    for path in map(Path, paths):
        if path.is_dir() and path.resolve().is_relative_to(out.resolve()):
            # What is written there would be read as input the next time.
            raise click.UsageError(
                f"the files can't be written into {out}, which is being read; name another folder"
            )
    return out


def _files(
    delivery: Delivery,
    emitters: "tuple[Emitter, ...]",
    made: Made,
    *,
    verify: bool,
    paper: str | None,
) -> Iterator[tuple[str, bytes]]:
    from translator.batch.names import stems
    from translator.emitters import EmitOptions
    from translator.pipeline import emit

    ready = _ready(delivery)
    names = stems(_key(placed) for placed in ready)
    for placed in ready:
        settled = delivery.conventions[placed.places[""].path]
        options = EmitOptions(conventions=settled, paper=paper)
        emitted = emit(placed, names[_key(placed)], emitters, options, verify=verify)
        made.findings.extend(emitted.findings)
        made.kinds.update(emitted.made)
        if emitted.files:
            made.marks.append(placed.part.mark)
        yield from emitted.files


def _differs(made: Made) -> bool:
    """Tell whether a file read back differs from its part; then nothing counts as made."""
    from translator.batch.closed_loop import RULE

    if not any(finding.rule == RULE for finding in made.findings):
        return False
    made.marks.clear()
    made.kinds.clear()
    return True


def _ready(delivery: Delivery) -> "tuple[Placed, ...]":
    outcome = delivery.outcome
    pairs = zip(outcome.parts, outcome.refused, strict=True)
    return tuple(placed for placed, refused in pairs if not refused)


def _key(placed: "Placed") -> tuple[str, str]:
    return placed.part.order or "", placed.part.mark


def _with(delivery: Delivery, made: Made) -> Delivery:
    """Add what writing has to say; losses are told in the summary, once for all parts."""
    from translator.findings import in_order

    verdict = delivery.outcome.verdict
    loud = [f for f in made.findings if f.rule != LOSS]
    whole = replace(verdict, findings=in_order((*verdict.findings, *loud)))
    return replace(delivery, outcome=replace(delivery.outcome, verdict=whole))


def _look_for_older(
    delivery: Delivery, emitters: "tuple[Emitter, ...]", made: Made, folder: Path
) -> None:
    """Find the files of an earlier run that pass for files which this run did not write."""
    from translator.batch.names import stems
    from translator.batch.older import Owner, older_files, unread

    outcome = delivery.outcome
    written = stems(map(_key, () if delivery.has_bad_settings else _ready(delivery)))
    whole = stems(map(_key, outcome.parts))
    owners: list[Owner] = []
    for placed in outcome.parts:
        key = _key(placed)
        names = (written[key],) if key in written else (whole[key], *stems([key]).values())
        owners.append(Owner(mark=placed.part.mark, span=placed.places[""], stems=names))
    for fault in unread(outcome.verdict):
        if fault.mark:
            names = tuple(stems([("", fault.mark)]).values())
            owners.append(Owner(mark=fault.mark, span=fault.span, stems=names))
    inputs = map(Path, outcome.verdict.files)
    read = [path for path in inputs if path.parent.resolve() == folder.resolve()]
    found = older_files(folder, owners, emitters, [*made.names, *(path.name for path in read)])
    made.older.extend(name for name, _ in found)
    made.findings.extend(finding for _, finding in found)
