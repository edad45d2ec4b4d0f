"""One observation of a test."""

from msgspec import Struct

from translator.conventions import Weight


class Seen(Struct, frozen=True, kw_only=True):
    """What a test saw: it speaks for one value of one setting."""

    setting: str
    value: str
    weight: Weight
    message: str
    line: int
