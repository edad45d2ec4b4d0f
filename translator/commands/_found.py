"""The part files that a command line names, and what they come under."""

import functools
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click
from msgspec import Struct

from translator.commands._options import STDIN, Wanted
from translator.commands._standard_input import standard_input

if TYPE_CHECKING:
    from translator.batch.bill import BillReading
    from translator.batch.configuration import Configuration, Configurations
    from translator.batch.discover import InputFile
    from translator.conventions import Conventions
    from translator.findings import Finding
    from translator.machines import Machine
    from translator.rules._bill import Bill
    from translator.rules._decisions import Decisions
    from translator.rules._practice import Practice
    from translator.source import Source


class Found(Struct, frozen=True, kw_only=True):
    """The files that a command line names, before they are read, and what they come under.

    Attributes:
        files: part files, sorted by name.
        settings: folder -> the settings file that it comes under.
        decisions: folder -> the side files that it comes under.
        machines: machines that the parts may be made on.
        said: findings on paths, settings, side files and machines.
        sources: path of each settings file, side file and machine profile -> its bytes.
        given: what comes through standard input, by the name that findings call it.
        bill: what the parts are held against; None without one, or one that can't be read.
        billed: path of the bill, and of the settings that it was read by if there are any.
        searched: those of ``said`` that no kept file tells again: what the search passed over.
    """

    files: "tuple[InputFile, ...]"
    settings: "Mapping[Path, Configuration]"
    decisions: "Mapping[Path, tuple[Decisions, ...]]"
    machines: "tuple[Machine, ...]"
    said: "tuple[Finding, ...]"
    sources: Mapping[str, bytes]
    given: "Mapping[str, Source]"
    bill: "Bill | None" = None
    billed: tuple[str, ...] = ()
    searched: "tuple[Finding, ...]" = ()

    @property
    def configurations(self) -> "tuple[Configuration, ...]":
        """The settings files, each once."""
        return tuple({own.path: own for own in self.settings.values()}.values())


def find(
    wanted: Wanted,
    out: Path | None,
    machines: tuple[Path, ...] | None,
    bill: Path | None = None,
) -> Found:
    """Find the part files under some paths, and what they come under; see ``take``."""
    from translator.batch.configuration import Configurations
    from translator.batch.discover import Discovered, InputFile, discover, shown
    from translator.batch.machines import read_machines
    from translator.batch.waivers_file import SideFiles
    from translator.readers import readers

    shop = Configurations(wanted.config)
    named = [Path(path) for path in wanted.paths if path != STDIN]
    found = Discovered(files=(), findings=())
    if named:
        skipped = functools.partial(_is_output, shop, out)
        found = discover(named, readers(), skipped, shop.excluded_by, wanted.exclude)
    beside = SideFiles(named)
    files = [*found.files]
    given: dict[str, Source] = {}
    if STDIN in wanted.paths:
        source, reader = standard_input(wanted.kind)
        given[STDIN] = source
        files.append(InputFile(path=STDIN, reader=reader.name))
    folders = dict.fromkeys(file.folder for file in files)
    own = {folder: shop.of(folder) for folder in folders}
    decided = {folder: beside.of(folder, settings) for folder, settings in own.items()}
    used = tuple({settings.path: settings for settings in own.values()}.values())
    shop_floor = read_machines(_profiles(machines, used))
    said = [f for settings in used for f in settings.findings]
    said += (*found.findings, *shop_floor.findings, *beside.findings)
    settings = {shown(own.path): own.data for own in used if own.path is not None}
    billed = None if bill is None else _bill(bill, shop, used)
    said += [] if billed is None else billed.findings
    of_bill = {} if billed is None else billed.sources
    return Found(
        files=tuple(sorted(files, key=lambda file: file.name)),
        settings=own,
        decisions=decided,
        machines=shop_floor.machines,
        said=tuple(said),
        sources={**settings, **beside.sources, **shop_floor.sources, **of_bill},
        given=given,
        bill=None if billed is None else billed.bill,
        billed=tuple(of_bill),
        searched=tuple(found.findings),
    )


def _bill(path: Path, shop: "Configurations", used: "tuple[Configuration, ...]") -> "BillReading":
    """Return a bill as the settings of its folder read it; where there are none, the parts'."""
    from translator.batch.bill import read_bill_file

    own = shop.of(path.parent)
    if own.path is None and used:
        own = used[0]
    return read_bill_file(path, own, is_told=own in used)


def _profiles(
    named: tuple[Path, ...] | None, settings: "tuple[Configuration, ...]"
) -> tuple[Path, ...]:
    """Return the machine profiles of a run: those named, else those of the settings, each once."""
    if named or named is None:
        return named or ()
    return tuple({path.resolve(): path for own in settings for path in own.machines}.values())


def _is_output(shop: "Configurations", out: Path | None, folder: Path) -> bool:
    from translator.release.placing import holds_release

    is_named = out is not None and out.resolve() == folder.resolve()
    return is_named or shop.is_output(folder) or holds_release(folder)


def practice_of(wanted: Wanted, own: "Configuration") -> "Practice":
    """Return what parts under some settings are judged by; the command line goes before them."""
    from translator.batch.practice import with_code

    return with_code(own.practice, wanted.practice) if wanted.practice else own.practice


def settled(conventions: "Conventions", settings: tuple[str, ...]) -> "Conventions":
    from translator.conventions import with_setting

    for setting in settings:
        name, equals, value = setting.partition("=")
        if not equals:
            raise click.UsageError(f"--nc takes NAME=VALUE, not {setting!r}")
        conventions = with_setting(conventions, name, value.strip())
    return conventions


def day(text: str | None) -> str | None:
    import datetime as dt

    if text is None:
        return None
    try:
        return dt.date.fromisoformat(text).isoformat()
    except ValueError:
        raise click.UsageError(f"--as-of takes a day as YYYY-MM-DD, not {text!r}") from None
