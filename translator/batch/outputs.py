"""The names and bytes of the files that one format makes of one part."""

from dataclasses import replace

from translator.emitters import EmitOptions, Emitter
from translator.model import Part, leg_names


def outputs(
    part: Part, stem: str, emitter: Emitter, options: EmitOptions
) -> tuple[tuple[str, bytes], ...]:
    """Return file name and bytes of each file: one, or one for each leg.

    Raises:
        CannotRepresentError: when writing would change the part.
    """
    if not emitter.per_leg:
        return ((f"{stem}{emitter.suffix}", emitter.emit(part, options)),)
    return tuple(
        (
            f"{stem}.{leg if leg == 'face' else f'leg-{leg}'}{emitter.suffix}",
            emitter.emit(part, replace(options, leg=leg)),
        )
        for leg in leg_names(part)
    )
