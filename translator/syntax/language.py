"""The grammar, read once a process: its words, its parse table, and what begins where."""

import json
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Final

from msgspec import Struct

from translator.resources import resource
from translator.syntax.table import END, Table, table_of

_RAW: Final = ("MARK_TEXT", "BARE", "SECTION_TEXT", "BOLT_SIZE", "RULE_NAME", "DATE")
"""Words whose shape depends on the place alone; no state takes two of them."""

_OPERANDS: Final = frozenset({"NUMBER", "DEGREES"})
_SHORTEST_NEAR: Final = 3


class Language(Struct, frozen=True, kw_only=True):
    """What cutting, parsing and recovery ask of the grammar.

    Attributes:
        table: the parse table.
        words: spelling of each keyword, small letters -> its terminal.
        symbols: spelling of each sign -> its terminal.
        raw: state -> the one raw word that may stand there.
        subtracting: states in which a minus subtracts, since no operand may stand there.
        statements: states in which a statement may begin.
        heads: states in which the head of a block stands.
        starters: block ("file", "part", "leg") -> terminals that begin a statement there.
        all_starters: terminals that begin a statement in any block.
        shortened: keywords with one sign left out, and whole -> the keywords.
    """

    table: Table
    words: Mapping[str, str]
    symbols: Mapping[str, str]
    raw: Mapping[int, str]
    subtracting: frozenset[int]
    statements: frozenset[int]
    heads: frozenset[int]
    starters: Mapping[str, frozenset[str]]
    all_starters: frozenset[str]
    shortened: Mapping[str, tuple[str, ...]]

    def near(self, text: str, terminals: Iterable[str]) -> str | None:
        """Return the keyword that a misspelt word most likely meant, None if it is far from all.

        It is one sign off at most: one too many, one missing, one wrong or two exchanged.

        Args:
            text: the word as typed.
            terminals: terminals that may stand in its place.
        """
        wanted = frozenset(terminals)
        fits = (word for word in self.near_words(text) if self.words[word] in wanted)
        return next(fits, None)

    def near_words(self, text: str) -> list[str]:
        """Return all keywords that a word may be a misspelling of, the likeliest first."""
        typed = text.lower()
        if not _SHORTEST_NEAR <= len(typed) <= max(map(len, self.words)) + 1:
            return []
        words = {word for short in _one_less(typed) for word in self.shortened.get(short, ())}
        return sorted(words - {typed}, key=lambda word: (abs(len(word) - len(typed)), word))

    def spelled(self, terminal: str) -> str:
        """Return the usual spelling of a keyword or sign."""
        usual = terminal.lower().replace("_", "-")
        if self.words.get(usual) == terminal:
            return usual
        spellings = [*self.words.items(), *self.symbols.items()]
        return next((text for text, name in spellings if name == terminal), terminal)


@cache
def language() -> Language:
    """Return the language of part text, read on the first call."""
    text = resource("grammar", "part.table.json").read_text(encoding="utf-8")
    document = json.loads(text)
    table = table_of(document)
    words: dict[str, str] = document["words"]
    ends = {"RBRACE", END}
    broken = table.shifting("BROKEN")
    starters = _starters(table)
    return Language(
        table=table,
        words=words,
        symbols=document["symbols"],
        raw={state: raw for raw in _RAW for state in table.shifting(raw)},
        subtracting=frozenset(
            state for state, row in table.rows.items() if "MINUS" in row and not _OPERANDS & {*row}
        ),
        statements=frozenset(state for state in broken if ends & {*table.rows[state]}),
        heads=frozenset(state for state in broken if not ends & {*table.rows[state]}),
        starters=starters,
        all_starters=frozenset().union(*starters.values()),
        shortened=_shortened(words),
    )


def keyword_of(text: str) -> str:
    """Return the terminal of a text's first word, "" if that is no keyword."""
    words = text.split(None, 1)
    return language().words.get(words[0].lower(), "") if words else ""


def _starters(table: Table) -> dict[str, frozenset[str]]:
    file = [table.start]
    part = table.after(file, "PART", "MARK_TEXT", "LBRACE") or file
    leg = table.after(part, "LEG", "A", "LBRACE") or file
    aside = {"BROKEN", "RBRACE", END}
    blocks = {"file": file, "part": part, "leg": leg}
    return {name: table.following(stack) - aside for name, stack in blocks.items()}


def _shortened(words: Iterable[str]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for word in words:
        if len(word) >= _SHORTEST_NEAR:
            for short in _one_less(word):
                found.setdefault(short, []).append(word)
    return {short: tuple(near) for short, near in found.items()}


def _one_less(word: str) -> set[str]:
    return {word, *(word[:n] + word[n + 1 :] for n in range(len(word)))}
