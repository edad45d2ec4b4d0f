"""``backmark translate``: hand parts on in open formats."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from translator.commands._console import say
from translator.commands._delivery import SEVERITIES, Delivery, Wanted, shared_options, take
from translator.commands.check import exit_code, render
from translator.findings import CAUTION, Severity
from translator.source import printable

if TYPE_CHECKING:
    from translator.emitters import Emitter
    from translator.findings import Finding
    from translator.model import Placed

LOSS: Final = "cannot-carry"

PAPERS: Final = ("A4", "A3", "letter", "tabloid")

MOST_LISTED: Final = 20
"""Lines of a list in the summary; the report above it names the rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """What a run made; filled while the files stream to the disk."""

    marks: list[str] = field(default_factory=list)
    kinds: Counter[str] = field(default_factory=Counter)
    findings: "list[Finding]" = field(default_factory=list)


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
    made = _Made()
    if not delivery.has_bad_settings:
        from translator.batch.write import write_all

        files = _files(delivery, emitters, made, verify=verify, paper=paper)
        write_all(folder, files, lambda: not _differs(made))
    delivery = _with(delivery, made)
    if delivery.outcome.verdict.findings:
        # The caution comes once, behind the summary.
        say(render(delivery, "text").removesuffix(f"{CAUTION}\n"))
    say(_summary(delivery, made, folder))
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
    made: _Made,
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


def _differs(made: _Made) -> bool:
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


def _with(delivery: Delivery, made: _Made) -> Delivery:
    """Add what writing has to say; losses are told in the summary, once for all parts."""
    from translator.findings import in_order

    verdict = delivery.outcome.verdict
    loud = [f for f in made.findings if f.rule != LOSS]
    whole = replace(verdict, findings=in_order((*verdict.findings, *loud)))
    return replace(delivery, outcome=replace(delivery.outcome, verdict=whole))


def _summary(delivery: Delivery, made: _Made, folder: Path) -> str:
    verdict = delivery.outcome.verdict
    files = sum(made.kinds.values())
    lines = [
        f"{_count(len(verdict.files), 'input file')}, {_count(verdict.parts, 'part')};"
        f" {_count(files, 'file')} of {_count(len(made.marks), 'part')} made"
        + (f" in {folder.as_posix()}" if files else "")
    ]
    lines += [f"  {kind}: {number}" for kind, number in made.kinds.items()]
    pairs = zip(delivery.outcome.parts, delivery.outcome.refused, strict=True)
    refused = [f"{p.part.mark} ({p.places[''].path}): {why}" for p, why in pairs if why]
    if delivery.has_bad_settings:
        refused = ["everything: the settings file has errors"]
    lines += _listed("not written", refused)
    losses = Counter(f.message for f in made.findings if f.rule == LOSS)
    lines += _listed("left out", [f"{m} ({_count(n, 'part')})" for m, n in sorted(losses.items())])
    if verdict.not_ours:
        lines.append(f"not for this tool: {_count(len(verdict.not_ours), 'file')}")
        whys = Counter(why for _, why in verdict.not_ours)
        lines += [f"  {why}: {number}" for why, number in sorted(whys.items())]
    first = _look_first(delivery, made)
    if first:
        lines.append(f"Look first at {first}.")
    return "\n".join([printable(line) for line in lines] + ["", CAUTION])


def _listed(title: str, items: list[str]) -> list[str]:
    if not items:
        return []
    lines = [f"{title}: {len(items)}", *(f"  {item}" for item in items[:MOST_LISTED])]
    if len(items) > MOST_LISTED:
        lines.append(f"  and {len(items) - MOST_LISTED} more")
    return lines


def _look_first(delivery: Delivery, made: _Made) -> str:
    open_ones = [f for f in delivery.outcome.verdict.findings if f.waived is None]
    worst = min(open_ones, key=lambda f: f.severity.rank, default=None)
    if worst is not None and worst.severity is not Severity.NOTE:
        about = worst.mark or worst.span.path
        return f"{about}: {worst.severity.value} {worst.rule} ({worst.span.path})"
    return f"{made.marks[0]}: hold its drawing against the detailer's" if made.marks else ""


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
