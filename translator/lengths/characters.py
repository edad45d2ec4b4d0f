"""The characters people and their programs type for marks, dashes and fractions, made plain."""

import re
from types import MappingProxyType
from typing import Final

BLANKS: Final = " \t\u00a0\u2002\u2003\u2007\u2009\u202f"
FOOT_MARKS: Final = "'\u2018\u2019\u2032\u00b4"
INCH_MARKS: Final = '"\u201c\u201d\u2033\u201e'
HYPHENS: Final = "-\u2010\u2011\u2012\u2013\u2212"
SLASHES: Final = "/\u2044\u2215"
TIMES: Final = "x*\u00d7\u2715\u2a2f"

FRACTIONS: Final = MappingProxyType(
    {
        "\u00bd": "1/2",
        "\u2153": "1/3",
        "\u2154": "2/3",
        "\u00bc": "1/4",
        "\u00be": "3/4",
        "\u2155": "1/5",
        "\u2156": "2/5",
        "\u2157": "3/5",
        "\u2158": "4/5",
        "\u2159": "1/6",
        "\u215a": "5/6",
        "\u2150": "1/7",
        "\u215b": "1/8",
        "\u215c": "3/8",
        "\u215d": "5/8",
        "\u215e": "7/8",
        "\u2151": "1/9",
        "\u2152": "1/10",
    }
)
"""Fractions that are one character."""

_PLAIN: Final = str.maketrans(
    {
        **dict.fromkeys(BLANKS, " "),
        **dict.fromkeys(FOOT_MARKS, "'"),
        **dict.fromkeys(INCH_MARKS, '"'),
        **dict.fromkeys(HYPHENS, "-"),
        **dict.fromkeys(SLASHES, "/"),
        **dict.fromkeys(TIMES, "x"),
        "X": "x",
    }
)
_FRACTION: Final = re.compile("[" + "".join(FRACTIONS) + "]")
_SHOWN_CHARACTERS: Final = 40


def plain(text: str) -> str:
    """Return the text with one plain spelling for each mark, dash, blank and fraction.

    A one-character fraction behind a digit gets a blank before it (``11½`` becomes
    ``11 1/2``); two foot marks are one inch mark; every multiplication sign and ``X`` become ``x``.
    """

    def spelled(found: re.Match[str]) -> str:
        before = " " if text[: found.start()][-1:].isalnum() else ""
        behind = " " if text[found.end() :][:1].isalnum() or text[found.end() :][:1] == "/" else ""
        return before + FRACTIONS[found[0]] + behind

    return _FRACTION.sub(spelled, text).translate(_PLAIN).replace("''", '"').strip(" ")


def shown(text: str) -> str:
    """Return a text as a message may quote it: one line, printable, not too long."""
    kept = "".join(c if c.isprintable() else "?" for c in text[: _SHOWN_CHARACTERS + 1]).strip()
    return kept if len(text) <= _SHOWN_CHARACTERS else kept[:_SHOWN_CHARACTERS] + "..."
