"""Texts in quotes and without: one rule for reading and for printing."""

import re
from typing import Final

from translator.lengths.characters import FOOT_MARKS, INCH_MARKS

_UNFIT: Final = re.escape(f"{{}}()[],=#\ufeff{INCH_MARKS}")
_NOT_BARE: Final = rf"\s{_UNFIT}"

BARE_PATTERN: Final = rf"[^{_NOT_BARE}]+"
"""Regular expression of a text that needs no quotes."""

MARK_PATTERN: Final = rf"[^{_NOT_BARE}{re.escape(FOOT_MARKS)}]+"
"""Regular expression of a mark that needs no quotes; a mark may not look like feet."""

_CURLY: Final = "\u201c\u201d\u201e"
STRING_PATTERN: Final = (
    r'(?:"(?:[^"\r\n]++|"")*"'
    rf'|[{_CURLY}](?:[^{_CURLY}"\r\n]++|"")*[{_CURLY}"]'
    rf'|"[^"{_CURLY}\r\n]*[{_CURLY}])'
)
"""Regular expression of a text in quotes; a straight quote is closed by a straight one if the
line has one, a curly quote by either kind."""

_PLAIN_WORD: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9._/+-]*")
_BARE_MARK: Final = re.compile(MARK_PATTERN)


def unquoted(text: str) -> str:
    """Return what a word says: the text between its quotes, or the word itself."""
    if text[:1] not in ('"', *_CURLY):
        return text
    closed = len(text) > 1 and text[-1] in ('"', *_CURLY)
    return text[1 : -1 if closed else None].replace('""', '"')


def quoted(text: str) -> str:
    """Return the text in quotes."""
    return '"' + text.replace('"', '""') + '"'


def mark_text(mark: str) -> str:
    """Return a mark as a file spells it, in quotes only where it needs them."""
    return mark if _BARE_MARK.fullmatch(mark) else quoted(mark)


def bare_text(text: str) -> str:
    """Return a text without quotes if it is one plain word, else in quotes."""
    return text if _PLAIN_WORD.fullmatch(text) else quoted(text)
