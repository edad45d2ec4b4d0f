"""The names and bytes of the files that one format makes of one part."""

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from translator.batch.closed_loop import RULE, differences
from translator.emitters import EmitOptions, Emitter
from translator.errors import CannotRepresentError, stage
from translator.findings import Finding, Severity
from translator.model import LegName, Part, Placed, leg_names, place_of


def written(
    placed: Placed, stem: str, emitter: Emitter, options: EmitOptions, *, verify: bool = False
) -> tuple[tuple[tuple[str, bytes], ...], tuple[Finding, ...]]:
    """Return the files of one part in one format, and what is to be said about them.

    What the format has no words for is a note. Writing that would change the part is an error
    and gives no file; with ``verify`` so is any difference of a file that is read back.
    """
    part = placed.part
    try:
        files = outputs(part, stem, emitter, options)
    except CannotRepresentError as error:
        message = f"no {emitter.title} is written: {error}"
        return (), (_about(placed, "cannot-write", Severity.ERROR, message),)
    if verify:
        found = tuple(differences(part, emitter.name, files, options.conventions))
        if found:
            return (), tuple(_about(placed, RULE, Severity.ERROR, text) for text in found)
    return files, tuple(_losses(placed, emitter))


def _losses(placed: Placed, emitter: Emitter) -> Iterator[Finding]:
    for loss in emitter.losses(placed.part):
        yield _about(placed, "cannot-carry", Severity.NOTE, f"{emitter.title}: {loss}")


def _about(placed: Placed, rule: str, severity: Severity, message: str) -> Finding:
    span = place_of(placed, "")
    return Finding(rule=rule, severity=severity, message=message, span=span, mark=placed.part.mark)


def outputs(
    part: Part, stem: str, emitter: Emitter, options: EmitOptions
) -> tuple[tuple[str, bytes], ...]:
    """Return file name and bytes of each file: one, or one for each leg.

    Raises:
        CannotRepresentError: when writing would change the part.
    """
    if not emitter.per_leg:
        return ((file_name(stem, emitter), emitter.emit(part, options)),)
    return tuple(
        (
            file_name(stem, emitter, leg),
            emitter.emit(part, replace(options, leg=leg)),
        )
        for leg in leg_names(part)
    )


def file_name(stem: str, emitter: Emitter, leg: LegName | None = None) -> str:
    """Return the name of a file of a part; ``leg`` for a format of one file for each leg."""
    if leg is None:
        return f"{stem}{emitter.suffix}"
    return f"{stem}.{leg if leg == 'face' else f'leg-{leg}'}{emitter.suffix}"


class Emitted(Struct, frozen=True, kw_only=True):
    """The files of one part, in memory, and what they could not carry.

    ``made`` holds the title of each file's format.
    """

    files: tuple[tuple[str, bytes], ...]
    made: tuple[str, ...]
    findings: tuple[Finding, ...]


def emit(
    placed: Placed,
    stem: str,
    formats: Sequence[Emitter],
    options: EmitOptions,
    *,
    verify: bool = False,
) -> Emitted:
    """Write one part in some formats, in memory.

    What a format has no words for is a note; a format that would change the part is an error
    finding and no file. With ``verify`` each file is read back, and a difference is an error.
    """
    files: list[tuple[str, bytes]] = []
    made: list[str] = []
    findings: list[Finding] = []
    for emitter in formats:
        with stage(f"writing {emitter.name}", placed.places[""].path):
            new, found = written(placed, stem, emitter, options, verify=verify)
            files += new
            made += [emitter.title] * len(new)
            findings += found
    return Emitted(files=tuple(files), made=tuple(made), findings=tuple(findings))
