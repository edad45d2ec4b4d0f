"""A delivery that a command line names, taken whole into memory."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from translator.commands._found import day, find, practice_of, settled
from translator.commands._options import PRACTICES, SEVERITIES, STDIN, Wanted, shared_options

if TYPE_CHECKING:
    from translator.batch.configuration import Configuration
    from translator.batch.outcome import Outcome
    from translator.conventions import Conventions
    from translator.findings import Finding
    from translator.pipeline import Input
    from translator.readers import Reader
    from translator.rules._decisions import Decisions
    from translator.source import Source

__all__ = ["PRACTICES", "SEVERITIES", "STDIN", "Delivery", "Wanted", "shared_options", "take"]


class Delivery(Struct, frozen=True, kw_only=True):
    """A delivery after the road, with its settings and the bytes it was read from.

    Attributes:
        outcome: parts and findings.
        configurations: the settings files that its inputs come under.
        settings: input -> the one of them that it comes under.
        conventions: input -> the settings it was read with.
        sources: input -> its bytes.
        inputs: what was examined, with readers and decisions.
        billed: path of the bill, and of the settings that it was read by if there are any.
        searched: findings of the search for files, such as names passed over.
    """

    outcome: "Outcome"
    configurations: "tuple[Configuration, ...]"
    settings: "Mapping[str, Configuration]"
    conventions: "Mapping[str, Conventions]"
    sources: Mapping[str, bytes]
    inputs: "tuple[Input, ...]" = ()
    billed: tuple[str, ...] = ()
    searched: "tuple[Finding, ...]" = ()

    @property
    def has_bad_settings(self) -> bool:
        """Whether a settings file is not understood, so that nothing may be handed on."""
        return any(own.findings for own in self.configurations)


def take(
    wanted: Wanted,
    out: Path | None = None,
    machines: tuple[Path, ...] | None = None,
    bill: Path | None = None,
) -> Delivery:
    """Find, read and examine the part files under some paths, and hold them all in memory.

    Args:
        wanted: what the command line names.
        out: folder that output goes to; nothing in it is input.
        machines: profiles of machines that the parts may be made on; when empty, those of
            the settings files; None leaves machines out.
        bill: what the parts are held against.

    Raises:
        WorkError: when a path, a settings file or a date is no good.
        UnknownNameError: for a setting or format that does not exist.
    """
    from translator.batch.discover import load, reader_of
    from translator.pipeline import examine
    from translator.readers import readers

    found = find(wanted, out, machines, bill)
    known = readers()
    given = [
        (found.given.get(f.name) or load(f, known), reader_of(f, known), f.folder)
        for f in found.files
    ]
    inputs = [
        _input(wanted, source, reader, found.settings[folder], found.decisions[folder])
        for source, reader, folder in given
    ]
    outcome = examine(
        inputs,
        said=found.said,
        as_of=day(wanted.as_of),
        machines=found.machines,
        bill=found.bill,
    )
    return Delivery(
        outcome=outcome,
        configurations=found.configurations,
        settings={source.path: found.settings[folder] for source, _, folder in given},
        conventions={i.source.path: i.conventions for i in inputs},
        sources={**found.sources, **_read(inputs)},
        inputs=tuple(inputs),
        billed=found.billed,
        searched=found.searched,
    )


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
    from translator.pipeline import Input

    return Input(
        source=source,
        reader=reader,
        conventions=settled(own.conventions, wanted.settings),
        practice=practice_of(wanted, own),
        decisions=decisions,
    )
