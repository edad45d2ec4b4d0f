"""One source of a delivery, with what it comes under."""

from msgspec import Struct, field

from translator.conventions import Conventions
from translator.readers import Reader
from translator.rules._decisions import Decisions
from translator.rules._practice import Practice
from translator.source import Source


class Input(Struct, frozen=True, kw_only=True):
    """One source, the reader that claims it, and the settings it comes under."""

    source: Source
    reader: Reader
    conventions: Conventions
    practice: Practice = field(default_factory=Practice)
    decisions: tuple[Decisions, ...] = ()
