"""The machine profiles that a run names, read from their files."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from msgspec import Struct

from translator.batch.discover import reason, shown
from translator.errors import WorkError
from translator.findings import Finding
from translator.source import Source

if TYPE_CHECKING:
    from translator.machines import Machine


class Machines(Struct, frozen=True, kw_only=True):
    """What the profiles of a run say.

    Attributes:
        machines: those that could be read, in the order named.
        findings: faults of the files.
        sources: path of each file -> its bytes.
    """

    machines: "tuple[Machine, ...]"
    findings: tuple[Finding, ...]
    sources: Mapping[str, bytes]


def read_machines(paths: Iterable[Path]) -> Machines:
    """Read machine profiles; the room is only loaded when there is one.

    Raises:
        WorkError: when a file can't be read, or two machines have one name, so that a report
            could not tell them apart.
    """
    machines: list[Machine] = []
    findings: list[Finding] = []
    sources: dict[str, bytes] = {}
    for path in paths:
        machine, said, source = _read(path)
        findings += said
        sources[source.path] = source.data
        if machine is None:
            continue
        if any(machine.name == other.name for other in machines):
            raise WorkError(f"two machines are called {machine.name!r}")
        machines.append(machine)
    return Machines(
        machines=tuple(machines), findings=tuple(findings), sources=MappingProxyType(sources)
    )


def _read(path: Path) -> "tuple[Machine | None, tuple[Finding, ...], Source]":
    from translator.machines import load_machine
    from translator.machines.load import LARGEST_BYTES

    source = Source(path=shown(path), data=_bytes(path, LARGEST_BYTES))
    return *load_machine(source), source


def _bytes(path: Path, largest: int) -> bytes:
    try:
        with path.open("rb") as stream:
            data = stream.read(largest + 1)
    except (OSError, ValueError) as error:
        why = reason(error) if isinstance(error, OSError) else "no path can be spelt so"
        raise WorkError(f"can't read {shown(path)}: {why}") from error
    if len(data) > largest:
        raise WorkError(f"{shown(path)} is larger than 250 kB; a machine profile is not")
    return data
