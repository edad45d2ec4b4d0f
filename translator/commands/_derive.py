"""Make the outputs of a release from the files that it keeps, and from nothing else."""

import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct, field

from translator.commands._kept import Kept

if TYPE_CHECKING:
    from translator.batch.configuration import Configuration
    from translator.batch.outcome import Outcome
    from translator.emitters import Emitter
    from translator.findings import Finding
    from translator.machines import Machine
    from translator.model import Placed
    from translator.pipeline import Input
    from translator.release.manifest import KeptFile, MadeFile, OutputRole, Release, Remark
    from translator.rules._bill import Bill
    from translator.rules._decisions import Decisions

Holds = Mapping[tuple[str, str], str]
"""The reason for each (order, mark) on hold."""


class Derived(Struct, frozen=True, kw_only=True):
    """A delivery after the road, told by the names that a release gives its inputs.

    Attributes:
        kept: what it was made of.
        inputs: what was examined.
        outcome: parts and findings.
    """

    kept: Kept
    inputs: "tuple[Input, ...]"
    outcome: "Outcome"

    @property
    def ready(self) -> "tuple[Placed, ...]":
        """The parts that may be handed on."""
        pairs = zip(self.outcome.parts, self.outcome.refused, strict=True)
        return tuple(placed for placed, refused in pairs if not refused)


class Written(Struct, frozen=True, kw_only=True):
    """What was made so far; filled while the files stream to the disk.

    Attributes:
        files: each output.
        of_mark: (order, mark) -> paths of its files.
        findings: what the formats have to say.
        proof: once all is made, the release and the SHA-256 of its manifest.
    """

    files: "list[MadeFile]" = field(default_factory=list)
    of_mark: dict[tuple[str, str], list[str]] = field(default_factory=dict)
    findings: "list[Finding]" = field(default_factory=list)
    proof: "list[tuple[Release, str]]" = field(default_factory=list)


def key_of(placed: "Placed") -> tuple[str, str]:
    """Return order and mark of a part."""
    return placed.part.order or "", placed.part.mark


def derive(kept: Kept) -> Derived:
    """Read and examine the kept files, from memory, under the kept settings."""
    from translator.pipeline import examine

    said: list[Finding] = []
    settings = _settings(kept, said)
    decided = _decided(kept, settings, said)
    inputs = tuple(
        _input(kept, file, settings, decided) for file in kept.files if file.role == "part file"
    )
    machines = _machines(kept, said)
    bill = _bill(kept, settings, said)
    said += [_remark(remark) for remark in kept.remarks]
    as_of = kept.options.as_of
    outcome = examine(inputs, said=said, as_of=as_of, machines=machines, bill=bill)
    return Derived(kept=kept, inputs=inputs, outcome=outcome)


def _settings(kept: Kept, said: "list[Finding]") -> "Mapping[str, Configuration]":
    from translator.batch.configuration import understood

    named = {file.settings for file in kept.files if file.settings is not None}
    settings = {name: understood(Path(name), kept.data[name]) for name in sorted(named)}
    said += [finding for own in settings.values() for finding in own.findings]
    return settings


def _decided(
    kept: Kept, settings: "Mapping[str, Configuration]", said: "list[Finding]"
) -> "Mapping[str, Decisions]":
    """Return the decisions of each side file and each settings file, every file once."""
    from msgspec.structs import replace

    from translator.batch.waivers_file import understand

    named = dict.fromkeys(name for file in kept.files for name in file.waivers)
    whole = {file.name: file.whole for file in kept.files}
    found: dict[str, Decisions] = {}
    for name in named:
        decisions, findings = understand(name, kept.data[name])
        said += findings
        found[name] = replace(decisions, is_whole=whole[name])
    for name, own in settings.items():
        if own.decisions is not None:
            found[name] = replace(own.decisions, is_whole=whole[name])
    return found


def _input(
    kept: Kept,
    file: "KeptFile",
    settings: "Mapping[str, Configuration]",
    decided: "Mapping[str, Decisions]",
) -> "Input":
    from translator.batch.configuration import Configuration
    from translator.batch.practice import with_code
    from translator.conventions import with_setting
    from translator.errors import UnknownNameError
    from translator.pipeline import Input
    from translator.readers import readers
    from translator.source import Source

    own = Configuration() if file.settings is None else settings[file.settings]
    conventions, practice = own.conventions, own.practice
    for name, value in kept.options.nc.items():
        conventions = with_setting(conventions, name, value)
    if kept.options.practice is not None:
        practice = with_code(practice, kept.options.practice)
    reader = next((one for one in readers() if one.name == file.format), None)
    if reader is None:
        raise UnknownNameError(f"{file.name} can't be read as {file.format!r}")
    named = (*file.waivers, *((file.settings,) if file.settings is not None else ()))
    return Input(
        source=Source(
            path=file.name,
            data=kept.data[file.name],
            library={name: kept.data[name] for name in file.uses},
        ),
        reader=reader,
        conventions=conventions,
        practice=practice,
        decisions=tuple(decided[name] for name in named if name in decided),
    )


def _machines(kept: Kept, said: "list[Finding]") -> "Sequence[Machine]":
    if not kept.options.machines:
        return ()
    from translator.machines import load_machine
    from translator.source import Source

    machines: list[Machine] = []
    for name in kept.options.machines:
        machine, findings = load_machine(Source(path=name, data=kept.data[name]))
        said += findings
        if machine is not None:
            machines.append(machine)
    return machines


def _bill(
    kept: Kept, settings: "Mapping[str, Configuration]", said: "list[Finding]"
) -> "Bill | None":
    file = next((file for file in kept.files if file.role == "bill"), None)
    if file is None:
        return None
    from translator.batch.bill import read_bill
    from translator.source import Source

    own = None if file.settings is None else settings[file.settings].bill
    reading = read_bill(Source(path=file.name, data=kept.data[file.name]), own)
    said += reading.findings
    return reading.bill


def _remark(remark: "Remark") -> "Finding":
    from translator.findings import Finding, Severity
    from translator.source import whole_file

    return Finding(
        rule=remark.rule,
        severity=Severity(remark.severity),
        message=remark.message,
        span=whole_file(remark.path),
        unit="",
    )


def outputs(
    derived: Derived,
    holds: Holds,
    written: Written,
    *,
    verify: bool,
    done: Callable[[int], None] = lambda _: None,
) -> Iterator[tuple[str, bytes]]:
    """Yield path and bytes of each output; what was made is noted in ``written``.

    A part on hold has no file of its own. Files have the names that they would have without
    any hold, so that lifting one changes no other file.

    Args:
        derived: the delivery.
        holds: what is on hold.
        written: filled.
        verify: whether each file of a part is read back and compared with it.
        done: told how many more parts are made.
    """
    from translator.commands._release_reports import reports

    for path, data, name in _part_files(derived, holds, written, verify=verify, done=done):
        yield _noted(written, path, data, "part", name)
    for path, data, role, name in reports(derived, holds, written):
        yield _noted(written, path, data, role, name)


def _part_files(
    derived: Derived,
    holds: Holds,
    written: Written,
    *,
    verify: bool,
    done: Callable[[int], None],
) -> Iterator[tuple[str, bytes, str]]:
    from translator.batch.names import stems
    from translator.emitters import EmitOptions
    from translator.pipeline import emit
    from translator.release.document import FILES

    options = derived.kept.options
    formats = known_emitters(options.formats)
    conventions = {item.source.path: item.conventions for item in derived.inputs}
    names = stems(key_of(placed) for placed in derived.ready)
    for placed in derived.ready:
        key = key_of(placed)
        if key in holds:
            done(1)
            continue
        given = EmitOptions(conventions=conventions[placed.places[""].path], paper=options.paper)
        for emitter in formats:
            emitted = emit(placed, names[key], (emitter,), given, verify=verify)
            written.findings.extend(emitted.findings)
            for name, data in emitted.files:
                path = f"{FILES}/{emitter.name}/{name}"
                written.of_mark.setdefault(key, []).append(path)
                yield path, data, emitter.name
        done(1)


def _noted(
    written: Written, path: str, data: bytes, role: "OutputRole", name: str
) -> tuple[str, bytes]:
    from translator.release.manifest import MadeFile

    digest = hashlib.sha256(data).hexdigest()
    written.files.append(
        MadeFile(path=path, bytes=len(data), sha256=digest, role=role, format=name)
    )
    return path, data


def known_emitters(names: Sequence[str]) -> "tuple[Emitter, ...]":
    """Return the emitters of some formats.

    Raises:
        UnknownNameError: for a format that does not exist.
    """
    from translator.emitters import emitters
    from translator.errors import UnknownNameError

    known = {emitter.name: emitter for emitter in emitters()}
    for name in names:
        if name not in known:
            raise UnknownNameError(f"there is no format {name!r}; there are {', '.join(known)}")
    return tuple(known[name] for name in names)
