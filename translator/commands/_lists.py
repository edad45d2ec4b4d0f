"""What the commands that make lists of an order share: machines, parts that are ready, writing."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from translator.commands._console import remark, say
from translator.commands._delivery import Delivery
from translator.source import printable

if TYPE_CHECKING:
    from translator.machines import Machine
    from translator.model import Placed


def machines_of(delivery: Delivery, named: tuple[Path, ...]) -> "tuple[tuple[Machine, ...], bool]":
    """Return the profiles that are named, else those of the settings, and whether one is bad.

    Raises:
        UsageError: when there is none.
        WorkError: when a file can't be read.
    """
    from translator.batch.machines import read_machines
    from translator.findings import Severity

    paths = named or tuple(
        {path.resolve(): path for own in delivery.configurations for path in own.machines}.values()
    )
    if not paths:
        raise click.UsageError("name a machine with --machine, or machines in the settings file")
    read = read_machines(paths)
    for finding in read.findings:
        span = finding.span
        remark(printable(f"{span.path}:{span.line}: {finding.severity.value}: {finding.message}"))
    bad = any(finding.severity is Severity.ERROR for finding in read.findings)
    return read.machines, bad


def ready_parts(delivery: Delivery) -> "list[Placed]":
    """Return the parts that may be handed on; those that may not are named on the side.

    Raises:
        WorkError: when there is none.
    """
    from translator.commands.check import render
    from translator.errors import WorkError

    pairs = zip(delivery.outcome.parts, delivery.outcome.refused, strict=True)
    ready = []
    for placed, why in pairs:
        if why:
            path = placed.places[""].path
            remark(printable(f"left out: {placed.part.mark} ({path}): {why}"))
        else:
            ready.append(placed)
    if not ready:
        remark(render(delivery, "text"))
        raise WorkError("there is no part to work on")
    return ready


def deliver(data: bytes, out: Path | None) -> None:
    """Write a file, or print it where none is named."""
    if out is None:
        say(data.decode("utf-8"))
        return
    from translator.batch.write import write_all

    write_all(out.parent, [(out.name, data)])


def millimetres(text: str, option: str) -> float:
    """Return a length that an option names; it must say its unit.

    Raises:
        UsageError: when it is no length, or a bare number.
    """
    from translator.lengths.parse import LengthError, read_length

    try:
        length = read_length(text, "mm")
    except LengthError as error:
        raise click.UsageError(f"{option}: {error}") from None
    if length.bare is not None:
        raise click.UsageError(f"{option} is {text}; say its unit too, like {text}mm or {text}'")
    return float(length.mm)
