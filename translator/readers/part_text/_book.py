"""The findings of one part or file, gathered while it is lowered."""

from collections.abc import Collection
from fractions import Fraction
from typing import Final

from translator.errors import TranslatorError
from translator.findings import Finding, Severity
from translator.lengths.parse import Unit
from translator.lengths.spell import inch_text, mm_text
from translator.readers.part_text._frames import Frame, Spot
from translator.syntax.limits import most_features
from translator.syntax.tree import Extent

SYNTAX: Final = "syntax"
"""Rule of every fault of the spelling."""


_FREE_WORDS: Final = 20_000
_WORDS_A_SIGN: Final = 2
"""Beyond the words that are free: a call of 40 signs may ask for a family of 80 words."""

_LONGEST_NEAR: Final = 40
_MOST_NEAR: Final = 200
"""Longer names, and names of more things, are not compared: that takes its time."""


class RefusalError(TranslatorError, ValueError):
    """A statement can't be lowered; caught where its part is, and told there.

    Attributes:
        rule: the finding's rule.
        message: the finding's sentence.
        extent: the finding's place.
    """

    def __init__(self, rule: str, message: str, extent: Extent) -> None:
        super().__init__(message)
        self.rule = rule
        self.message = message
        self.extent = extent


class Book:
    """Gathers findings of one file, in the order they are met.

    Attributes:
        frame: what is in hand is read under; it knows the file.
        mark: the part in hand; "" between parts.
        element: path of the element in hand; "" for the part as a whole.
        findings: all so far.
        errors: how many of them are errors.
        features: how many features the file has so far.
        most_features: how many it may have, so that a few signs can't fill the memory.
        words: how many words of families were read for its calls.
        most_words: how many there may be, so that a few signs can't take all day.
    """

    def __init__(self, path: str, signs: int) -> None:
        self.home = Frame(path=path)
        self.frame = self.home
        self.mark = ""
        self.element = ""
        self.findings: list[Finding] = []
        self.errors = 0
        self.features = 0
        self.most_features = most_features(signs)
        self.words = 0
        self.most_words = _FREE_WORDS + _WORDS_A_SIGN * signs
        self._told_once: set[tuple[str, str]] = set()

    def begin(self, mark: str) -> None:
        """Turn to another part, or with "" to what stands between parts."""
        self.mark = mark
        self.element = ""
        self.errors = 0
        self.frame = self.home
        self._told_once.clear()

    def say(
        self, rule: str, message: str, extent: Extent, severity: Severity = Severity.ERROR
    ) -> None:
        """Note a finding about the element in hand, at a place in the file of the frame."""
        self.say_at(rule, message, self.frame.spot(extent), severity)

    def say_at(
        self, rule: str, message: str, spot: Spot, severity: Severity = Severity.ERROR
    ) -> None:
        """Note a finding about the element in hand."""
        self.errors += severity is Severity.ERROR
        if message.endswith(".."):
            message = message[:-1]  # "3 in." ends a sentence by itself
        self.findings.append(
            Finding(
                rule=rule,
                severity=severity,
                message=message,
                span=spot.span,
                mark=self.mark,
                element=self.element,
                related=spot.related,
            )
        )

    def has_room_for(self, words: int, extent: Extent) -> bool:
        """Count words against what a file may call for; False, with a finding, beyond it."""
        self.words += words
        if self.words > self.most_words:
            message = (
                f"With this the families that the file calls come to {self.words} words, more than"
                f" the {self.most_words} that a file of its size may call for: split it."
            )
            self.say("families-too-long", message, extent)
        return self.words <= self.most_words

    def refuse(self, refusal: RefusalError, *, once: bool = False) -> None:
        """Note a refusal as an error; with ``once`` only the first of its rule in a part."""
        key = (self.mark, refusal.rule)
        if once and key in self._told_once:
            self.errors += 1
            return
        self._told_once.add(key)
        self.say(refusal.rule, refusal.message, refusal.extent)

    def know(self, rule: str) -> None:
        """Take what a rule says in the part in hand as told already."""
        self._told_once.add((self.mark, rule))


def near(name: str, known: Collection[str]) -> str:
    """Return ": did you mean `x`?" for the known name nearest to one, "." when none is near."""
    if len(known) > _MOST_NEAR or len(name) > _LONGEST_NEAR:
        return "."
    from difflib import get_close_matches

    found = get_close_matches(name, sorted(known), n=1)
    return f": did you mean `{found[0]}`?" if found else "."


def told(mm: Fraction, units: Unit | None) -> str:
    """Return a length as a sentence gives it, in a file's unit where that is exact."""
    inches = inch_text(mm) if units == "inch" else None
    return f"{inches} in." if inches is not None else f"{mm_text(mm)} mm"
