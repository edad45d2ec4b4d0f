"""What an editor offers at a place: keywords, sections, bolts, rules, by what may stand there."""

import re
from typing import Final, Literal

from msgspec import Struct

from translator.rules import rules
from translator.syntax.expecting import expected_after
from translator.tables.angles import all_angles
from translator.tables.bolts import INCH_BOLTS, METRIC_BOLTS

Kind = Literal["keyword", "value"]

_INCHES: Final = re.compile(r"^\s*units?[ \t]+in", re.MULTILINE | re.IGNORECASE)


class Offer(Struct, frozen=True, kw_only=True):
    """One thing that may stand at a place.

    Attributes:
        text: what is put there.
        kind: a word of the language, or a value out of a table.
        detail: a word on it.
    """

    text: str
    kind: Kind
    detail: str = ""


class Offers(Struct, frozen=True, kw_only=True):
    """What may stand at a place.

    Attributes:
        typed: what stands there already of it, which an offer replaces.
        offers: in the order to show them.
    """

    typed: str
    offers: tuple[Offer, ...]


def offers_after(text: str) -> Offers:
    """Return what may stand at the end of a text.

    Args:
        text: the file up to where something is typed.
    """
    expected = expected_after(text)
    if expected is None:
        return Offers(typed="", offers=())
    values = _values(expected.raw, is_inch=_INCHES.search(text) is not None)
    words = [Offer(text=word, kind="keyword") for word in expected.keywords]
    return Offers(typed=expected.typed, offers=(*values, *words))


def _values(raw: str, *, is_inch: bool) -> list[Offer]:
    """Return what a table or a list has for a word; what fits the file's units comes first."""
    if raw == "SECTION_TEXT":
        own = "AISC" if is_inch else "EN 10056-1"
        return [
            Offer(text=each.designation, kind="value", detail=each.standard)
            for each in sorted(all_angles(), key=lambda each: each.standard != own)
        ]
    if raw == "BOLT_SIZE":
        bolts = (*INCH_BOLTS, *METRIC_BOLTS) if is_inch else (*METRIC_BOLTS, *INCH_BOLTS)
        return [Offer(text=name, kind="value") for name in bolts]
    if raw == "RULE_NAME":
        return [Offer(text=each.name, kind="value", detail=each.title) for each in rules()]
    return []
