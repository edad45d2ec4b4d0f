"""``backmark format``: part text in one layout."""

import os
import stat
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click
from msgspec import Struct

from translator.commands._console import has_colour, remark, say, say_error
from translator.commands._delivery import STDIN
from translator.source import Source, decode, lines_of, printable

if TYPE_CHECKING:
    from translator.findings import Finding


class _Laid(Struct, frozen=True, kw_only=True):
    """One text: where it was read, its bytes, and those in the one layout (None: faulty)."""

    path: Path | None
    source: Source
    data: bytes | None
    is_archived: bool = False

    @property
    def is_changed(self) -> bool:
        return self.data is not None and self.data != self.source.data


@click.command("format", short_help="Set part text (.bmk) in one layout.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option("--check", is_flag=True, help="Write nothing; exit with 1 if a file would change.")
@click.option("--diff", is_flag=True, help="Write nothing; print what would change.")
def format_(paths: tuple[str, ...], check: bool, diff: bool) -> int:
    """Set part text (.bmk files, and those in folders) in one layout.

    Comments, numbers as they were typed and the parts themselves stay as they are: the new
    text is read again and compared before anything is written. A file with faults of the
    spelling is left alone, and its faults are told. '-' sets standard input to the output.
    """
    laid, findings = _laid_out(paths)
    changed = [each for each in laid if each.is_changed]
    if findings:
        _report(laid, findings)
    if diff:
        for each in changed:
            say(_difference(each))
    for each in laid:
        if each.path is None and each.data is not None and not (check or diff):
            sys.stdout.flush()
            sys.stdout.buffer.write(each.data)
    files = [each for each in changed if each.path is not None]
    if check:
        for each in changed:
            remark(f"would be set anew: {printable(each.source.path)}")
    elif not diff:
        _stop_at_archived(files)
        for each in files:
            _write(each)
            remark(f"set anew: {printable(each.source.path)}")
    return int(bool(findings) or (check and bool(changed)))


COMMAND = format_


def _laid_out(paths: tuple[str, ...]) -> "tuple[list[_Laid], list[Finding]]":
    """Read and lay out everything before anything is written."""
    from translator.batch.configuration import Configurations
    from translator.batch.discover import discover, load
    from translator.editor.tidy import tidied
    from translator.readers.part_text import READER

    shop = Configurations()
    named = [Path(path) for path in paths if path != STDIN]
    found = discover(named, (READER,), shop.is_output, shop.excluded_by)
    sources: list[tuple[Path | None, Source, bool]] = [
        (Path(file.path), load(file), file.entry is not None) for file in found.files
    ]
    if STDIN in paths:
        sources.append((None, _standard_input(), False))
    findings = [*found.findings]
    laid: list[_Laid] = []
    for path, source, is_archived in sources:
        result = tidied(source)
        findings += result.faults
        laid.append(_Laid(path=path, source=source, data=result.data, is_archived=is_archived))
    return laid, [f for f in findings if f.severity.rank == 0]


def _stop_at_archived(files: list[_Laid]) -> None:
    """Refuse to write before anything is written, where a text lies in an archive."""
    from translator.errors import WorkError

    for each in files:
        if each.is_archived:
            raise WorkError(
                f"{each.source.path} lies in an archive, into which nothing is written: unpack"
                " it first, or look with --check or --diff"
            )


def _standard_input() -> Source:
    from translator.batch.discover import LARGEST_BYTES
    from translator.errors import WorkError

    data = sys.stdin.buffer.read(LARGEST_BYTES + 1)
    if len(data) > LARGEST_BYTES:
        raise WorkError("standard input is larger than 64 MB; a part file is not")
    return Source(path=STDIN, data=data)


def _report(laid: list[_Laid], findings: "list[Finding]") -> None:
    """Say the faults; beside the text itself where that goes to the output."""
    from translator.findings import Verdict
    from translator.reports import ReportOptions
    from translator.reports.text import render

    sources = {each.source.path: each.source.data for each in laid}
    options = ReportOptions(colour=has_colour(sys.stderr), source=sources.get)
    verdict = Verdict(findings=tuple(findings), files=tuple(sources))
    remark(render(verdict, options).rstrip("\n"))


def _difference(laid: _Laid) -> str:
    """Return what changes as a unified diff, without a sign that could move a cursor."""
    import difflib

    old, new = (lines_of(decode(data)[0]) for data in (laid.source.data, laid.data or b""))
    path = laid.source.path
    told = difflib.unified_diff(old, new, path, f"{path} (set anew)", lineterm="")
    return "\n".join("\t".join(map(printable, line.split("\t"))) for line in told)


def _write(laid: _Laid) -> None:
    """Put a new text in the place of the old one, whole, with the same permissions."""
    from translator.batch.write import write_all

    if laid.path is None or laid.data is None:
        return
    path = Path(os.path.realpath(laid.path))
    mode = stat.S_IMODE(path.stat().st_mode)
    write_all(path.parent, [(path.name, laid.data)])
    if stat.S_IMODE(path.stat().st_mode) != mode:
        try:
            path.chmod(mode)
        except OSError:
            say_error(f"{laid.source.path} is written, but its permissions are not kept")
