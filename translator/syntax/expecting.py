"""What may stand next, while a text is being typed."""

import re
from typing import Final

from msgspec import Struct

from translator.syntax.language import Language, language
from translator.syntax.parser import _Reading
from translator.syntax.table import END

_TYPED: Final = re.compile(r"[^\s{}()\[\],=#\"\u201c\u201d]*\Z")
_BLOCK_OF_FILE: Final = re.compile(r"^(?:part|family)(?!\w)", re.MULTILINE | re.IGNORECASE)
_LINE: Final = re.compile(r"[\r\n]")


class Expected(Struct, frozen=True, kw_only=True):
    """What may stand at the end of a text.

    Attributes:
        typed: what of a word stands there already.
        keywords: the usual spellings of the keywords that may stand there, sorted.
        raw: terminal of the word without a shape of its own that may stand there, such as
            SECTION_TEXT; "" for none.
    """

    typed: str
    keywords: tuple[str, ...]
    raw: str = ""


def expected_after(text: str) -> Expected | None:
    """Return what may stand at the end of a text; None within a comment or a quoted text.

    Args:
        text: the file up to where something is typed; it may have faults.
    """
    line = _LINE.split(text)[-1]
    if _in_aside(line):
        return None
    found = _TYPED.search(text)
    begin = len(text) if found is None else found.start()
    before = text[:begin]
    blocks = [block.start() for block in _BLOCK_OF_FILE.finditer(before)]
    grammar = language()
    reading = _Reading(before[blocks[-1] if blocks else 0 :], grammar)
    following = _read(reading)
    raw = grammar.raw.get(reading.stack[-1], "")
    is_fresh = not line[: len(line) - (len(text) - begin)].strip()
    return Expected(
        typed=text[begin:],
        keywords=_keywords(grammar, following),
        raw="" if is_fresh else raw,
    )


def _in_aside(line: str) -> bool:
    """Tell whether a line ends within a comment or a quoted text."""
    quotes = False
    for before, sign in zip(" " + line, line, strict=False):
        if sign == '"' and (quotes or not before.isdigit()):
            quotes = not quotes
        elif sign == "#" and not quotes:
            return True
    return quotes


def _read(reading: _Reading) -> frozenset[str]:
    """Read a text up to its end; what is missing there is not made up for."""
    while True:
        word = reading.cutter.cut(reading.stack[-1])
        if word.type == END:
            return reading.table.following(reading.stack)
        if not reading.machine.feed(word):
            reading._recover(word)  # noqa: SLF001 - the same room's own way past a fault


def _keywords(grammar: Language, following: frozenset[str]) -> tuple[str, ...]:
    terminals = following & frozenset(grammar.words.values())
    spelled = (grammar.spelled(terminal) for terminal in terminals)
    return tuple(sorted(word for word in spelled if word.isascii()))
