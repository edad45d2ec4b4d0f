"""Part text: the canonical spelling of any part, which reads back as an equal part."""

from typing import Final

from translator.emitters._emitter import EmitOptions, Emitter
from translator.model import Part


def _emit(part: Part, _options: EmitOptions) -> bytes:
    """Return the text of one part as UTF-8, in the part's own unit."""
    from translator.emitters.part_text._parts import part_text

    return part_text(part).encode("utf-8")


def _losses(_part: Part) -> tuple[str, ...]:
    """Return nothing: the language has words for everything that a part says."""
    return ()


EMITTER: Final = Emitter(
    name="bmk",
    title="part text",
    suffix=".bmk",
    per_leg=False,
    media_type="text/plain; charset=utf-8",
    emit=_emit,
    losses=_losses,
)
