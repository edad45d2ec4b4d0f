"""``backmark translate``: hand parts on in open formats."""

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click
from msgspec.structs import replace

from translator.commands._console import say
from translator.commands._delivery import Delivery
from translator.commands._found import Found, find
from translator.commands._made import LOSS, Made, summary
from translator.commands._naming import finish_folder, names_of, written_parts
from translator.commands._options import SEVERITIES, Run, Wanted, run_options, shared_options
from translator.commands._sweep import through
from translator.commands.check import exit_code, render
from translator.findings import CAUTION

if TYPE_CHECKING:
    from translator.batch.record import FileRecord
    from translator.batch.staging import Making
    from translator.emitters import Emitter

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
@click.option(
    "--prune",
    is_flag=True,
    help="Remove the files that earlier runs made in the folder and this one did not.",
)
@run_options
@shared_options
def translate(  # noqa: PLR0913, PLR0917 - one for each option
    wanted: Wanted,
    run: Run,
    formats: str,
    out: Path | None,
    fail_on: str | None,
    verify: bool,
    paper: str | None,
    prune: bool,
) -> int:
    """Check part files, and write each part without errors in the formats asked for.

    Parts with errors are listed and not written. The folder's index.json names what was
    made, and is written last.
    """
    from translator.batch.index import check_index
    from translator.batch.staging import Making, staging

    emitters = _emitters(formats)
    found = find(wanted, out, None)
    folder = _folder(out or _set_folder(found), wanted.paths)
    check_index(folder)
    made = Made()
    with staging(folder) as waiting:
        making = None
        if not any(own.findings for own in found.configurations):
            names = tuple(emitter.name for emitter in emitters)
            making = Making(formats=names, waiting=waiting, verify=verify, paper=paper)
        delivery, records = through(wanted, found, run, making=making)
        if making is not None:
            _write(delivery, records, making, made, folder, prune=prune)
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


def _set_folder(found: Found) -> Path | None:
    folders = {own.out for own in found.configurations}
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


def _write(  # noqa: PLR0913 - what is made of what, and where it goes
    delivery: Delivery,
    records: "tuple[FileRecord, ...]",
    making: "Making",
    made: Made,
    folder: Path,
    *,
    prune: bool,
) -> None:
    """Give the files that wait their names, unless one of them differs from its part."""
    from translator.batch.closed_loop import RULE
    from translator.batch.index import read_index

    whole = written_parts(delivery, records, making, made)
    if any(finding.rule == RULE for finding in made.findings):
        return  # then nothing counts as made
    gone, left = finish_folder(folder, making.waiting, whole, read_index(folder), prune=prune)
    made.removed.extend((folder / one.name).as_posix() for one in gone)
    made.left.extend((folder / one.name).as_posix() for one in left)
    made.names.extend(name for _, name in names_of(whole))
    made.kinds.update(one.title for part in whole for one in part.ready)
    made.marks.extend(part.judged.mark for part in whole if part.ready)


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
    pairs = tuple(zip(outcome.judged, outcome.refused, strict=True))
    ready = [] if delivery.has_bad_settings else [p for p, refused in pairs if not refused]
    written = stems(part.digest.key for part in ready)
    whole = stems(part.digest.key for part in outcome.judged)
    owners: list[Owner] = []
    for part, _ in pairs:
        key = part.digest.key
        names = (written[key],) if key in written else (whole[key], *stems([key]).values())
        owners.append(Owner(mark=part.mark, span=part.place, stems=names))
    for fault in unread(outcome.verdict):
        if fault.mark:
            names = tuple(stems([("", fault.mark)]).values())
            owners.append(Owner(mark=fault.mark, span=fault.span, stems=names))
    inputs = map(Path, outcome.verdict.files)
    read = [path for path in inputs if path.parent.resolve() == folder.resolve()]
    found = older_files(folder, owners, emitters, [*made.names, *(path.name for path in read)])
    made.older.extend(name for name, _ in found)
    made.findings.extend(finding for _, finding in found)
    told = set(made.older)
    made.older.extend(name for name in made.left if name not in told)
