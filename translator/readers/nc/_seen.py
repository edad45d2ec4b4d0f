"""One observation of a test."""

from dataclasses import dataclass

from translator.conventions import Weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What a test saw: it speaks for one value of one setting."""

    setting: str
    value: str
    weight: Weight
    message: str
    line: int
