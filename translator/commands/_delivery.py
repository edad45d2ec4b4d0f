"""The options that all commands on part files share, and the delivery they name."""

import functools
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

if TYPE_CHECKING:
    from translator.batch.configuration import Configuration, Configurations
    from translator.conventions import Conventions
    from translator.pipeline import Input, Outcome
    from translator.readers import Reader
    from translator.rules._decisions import Decisions
    from translator.source import Source

STDIN: Final = "-"
SEVERITIES: Final = ("error", "warning", "note")
PRACTICES: Final = ("auto", "us", "eu", "none")


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """A delivery after the road, with its settings and the bytes it was read from.

    Attributes:
        outcome: parts and findings.
        configurations: the settings files that its inputs come under.
        settings: input -> the one of them that it comes under.
        conventions: input -> the settings it was read with.
        sources: input -> its bytes.
        inputs: what was examined, with readers and decisions.
    """

    outcome: "Outcome"
    configurations: "tuple[Configuration, ...]"
    settings: "Mapping[str, Configuration]"
    conventions: "Mapping[str, Conventions]"
    sources: Mapping[str, bytes]
    inputs: "tuple[Input, ...]" = ()

    @property
    def has_bad_settings(self) -> bool:
        """Whether a settings file is not understood, so that nothing may be handed on."""
        return any(own.findings for own in self.configurations)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What a command line names: paths and the options that all commands share."""

    paths: tuple[str, ...]
    settings: tuple[str, ...]
    config: Path | None
    kind: str | None
    as_of: str | None
    practice: str | None


def shared_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the paths and shared options, given to the command as its first argument."""

    @functools.wraps(command)
    def gathered(**given: Any) -> Any:  # noqa: ANN401 - click's signature
        names = [item.name for item in fields(Wanted)]
        return command(Wanted(**{name: given.pop(name) for name in names}), **given)

    options = (
        click.option(
            "--nc",
            "settings",
            multiple=True,
            metavar="NAME=VALUE",
            help="Settle what the detailer format leaves open, e.g. y_datum=named-edge.",
        ),
        click.option(
            "--config",
            type=click.Path(path_type=Path),
            help="Settings file; else backmark.toml is looked for upward from the input.",
        ),
        click.option(
            "--practice",
            type=click.Choice(PRACTICES),
            help="Code to judge by; else that of the settings file, else by each part's units.",
        ),
        click.option("--as", "kind", metavar="FORMAT", help="Format of standard input (path '-')."),
        click.option(
            "--as-of",
            metavar="DATE",
            help="Judge dated waivers by this day (YYYY-MM-DD); else dates do not count.",
        ),
    )
    wrapped: Callable[..., Any] = gathered
    for option in reversed(options):
        wrapped = option(wrapped)
    return wrapped


def take(
    wanted: Wanted, out: Path | None = None, machines: tuple[Path, ...] | None = None
) -> Delivery:
    """Find, read and examine the part files under some paths.

    Args:
        wanted: what the command line names.
        out: folder that output goes to; nothing in it is input.
        machines: profiles of machines that the parts may be made on; when empty, those of
            the settings files; None leaves machines out.

    Raises:
        WorkError: when a path, a settings file or a date is no good.
        UnknownNameError: for a setting or format that does not exist.
    """
    from translator.batch.configuration import Configurations
    from translator.batch.discover import discover, load, reader_of, shown
    from translator.batch.machines import read_machines
    from translator.batch.waivers_file import SideFiles
    from translator.pipeline import examine
    from translator.readers import readers

    shop = Configurations(wanted.config)

    named = [Path(path) for path in wanted.paths if path != STDIN]
    found = discover(named, readers(), functools.partial(_is_output, shop, out), shop.excluded_by)
    beside = SideFiles(named)
    known = readers()
    given = [(load(f, known), reader_of(f, known), f.folder) for f in found.files]
    if STDIN in wanted.paths:
        given.append((*_standard_input(wanted.kind), Path()))
    own = {folder: shop.of(folder) for folder in dict.fromkeys(folder for *_, folder in given)}
    decided = {folder: beside.of(folder, settings) for folder, settings in own.items()}
    inputs = [
        _input(wanted, source, reader, own[folder], decided[folder])
        for source, reader, folder in given
    ]
    used = tuple({settings.path: settings for settings in own.values()}.values())
    shop_floor = read_machines(_profiles(machines, used))
    said = [f for settings in used for f in settings.findings]
    said += (*found.findings, *shop_floor.findings, *beside.findings)
    settings = {shown(own.path): own.data for own in used if own.path is not None}
    return Delivery(
        outcome=examine(inputs, said=said, as_of=_date(wanted.as_of), machines=shop_floor.machines),
        configurations=used,
        settings={source.path: own[folder] for source, _, folder in given},
        conventions={i.source.path: i.conventions for i in inputs},
        sources={**settings, **beside.sources, **shop_floor.sources, **_read(inputs)},
        inputs=tuple(inputs),
    )


def _profiles(
    named: tuple[Path, ...] | None, settings: "tuple[Configuration, ...]"
) -> tuple[Path, ...]:
    """Return the machine profiles of a run: those named, else those of the settings, each once."""
    if named or named is None:
        return named or ()
    return tuple({path.resolve(): path for own in settings for path in own.machines}.values())


def _is_output(shop: "Configurations", out: Path | None, folder: Path) -> bool:
    return shop.is_output(folder) or (out is not None and out.resolve() == folder.resolve())


def _read(inputs: "Iterable[Input]") -> dict[str, bytes]:
    """Return the bytes of all inputs and of the files that they use, by path."""
    read: dict[str, bytes] = {}
    for each in inputs:
        read |= {**each.source.library, each.source.path: each.source.data}
    return read


def _input(
    wanted: Wanted,
    source: "Source",
    reader: "Reader",
    own: "Configuration",
    decisions: "tuple[Decisions, ...]",
) -> "Input":
    """Return an input under its own settings, where the command line does not say otherwise."""
    from translator.batch.practice import with_code
    from translator.pipeline import Input

    return Input(
        source=source,
        reader=reader,
        conventions=_settled(own.conventions, wanted.settings),
        practice=with_code(own.practice, wanted.practice) if wanted.practice else own.practice,
        decisions=decisions,
    )


def _settled(conventions: "Conventions", settings: tuple[str, ...]) -> "Conventions":
    from translator.conventions import with_setting

    for setting in settings:
        name, equals, value = setting.partition("=")
        if not equals:
            raise click.UsageError(f"--nc takes NAME=VALUE, not {setting!r}")
        conventions = with_setting(conventions, name, value.strip())
    return conventions


def _date(text: str | None) -> str | None:
    import datetime as dt

    if text is None:
        return None
    try:
        return dt.date.fromisoformat(text).isoformat()
    except ValueError:
        raise click.UsageError(f"--as-of takes a day as YYYY-MM-DD, not {text!r}") from None


def _standard_input(kind: str | None) -> "tuple[Source, Reader]":
    from translator.batch.discover import LARGEST_BYTES
    from translator.errors import WorkError
    from translator.source import Source

    data = sys.stdin.buffer.read(LARGEST_BYTES + 1)
    if len(data) > LARGEST_BYTES:
        raise WorkError("standard input is larger than 64 MB; a part file is not")
    return Source(path=STDIN, data=data), _reader(kind or _sniff(data))


def _reader(kind: str) -> "Reader":
    from translator.errors import UnknownNameError
    from translator.readers import readers

    for reader in readers():
        if reader.name == kind:
            return reader
    known = ", ".join(reader.name for reader in readers())
    raise UnknownNameError(f"standard input can't be read as {kind!r}; there are {known}")


def _sniff(data: bytes) -> str:
    """Tell the format of some bytes: JSON opens with a brace, NC data with the line ST."""
    text = data[:65536].removeprefix(b"\xef\xbb\xbf").lstrip()
    if text.startswith(b"{"):
        return "json"
    for line in text.splitlines():
        word = line.strip()
        if word and not word.startswith(b"**"):
            return "nc" if word.upper() == b"ST" else "bmk"
    return "bmk"
