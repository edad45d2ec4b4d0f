"""The grammar, built once a process: its words, its parse table, and what may follow where.

The parser library turns the grammar into a table; the run over the table is in ``parser.py``,
because recovery from faults needs the stack of states in its hands.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any, Final, NamedTuple

from translator.resources import resource

END: Final = "$END"
RAW: Final = ("MARK_TEXT", "BARE", "SECTION_TEXT", "BOLT_SIZE", "RULE_NAME", "DATE")
"""Words whose shape depends on the place alone, so that no state takes two of them."""

_START: Final = "file"
_ALTERNATIVES: Final = re.compile(r"\(\?:([^()?*+\[\]]+)\)")
_SHORTEST_NEAR: Final = 3


class Reduction(NamedTuple):
    """What the parser does where a rule is complete.

    Attributes:
        size: how many values the rule takes from the stack.
        rule: the rule's name, under which the table goes on.
        name: name of the node it makes; "" dissolves it into the node around.
        is_single: one child stands for the node itself.
        has_dissolved: some of its values may be lists of dissolved children.
    """

    size: int
    rule: str
    name: str
    is_single: bool
    has_dissolved: bool


Row = Mapping[str, int | Reduction]
"""Terminal or rule -> the state a shift leads to, or the rule that is complete."""


@dataclass(frozen=True)
class Language:
    """What the parser's driver asks of the grammar.

    Attributes:
        table: the row of each state.
        start: the state at the beginning of a file.
        end: the state in which the end of the file closes the last rule.
        words: spelling of each keyword, small letters -> its terminal.
        symbols: spelling of each sign -> its terminal.
        raw: state -> the one raw word (see ``RAW``) that may stand there.
        operands: states in which a number, an angle or a figure may stand.
        statements: states in which a statement may begin.
        heads: states in which the head of a block stands.
    """

    table: Mapping[int, Row]
    start: int
    end: int
    words: Mapping[str, str]
    symbols: Mapping[str, str]
    raw: Mapping[int, str]
    operands: frozenset[int]
    statements: frozenset[int]
    heads: frozenset[int]

    def leads_on(self, stack: Sequence[int], terminal: str) -> bool:
        """Tell whether a word of that terminal may stand behind what the stack has read."""
        return self.after(stack, terminal) is not None

    def after(self, stack: Sequence[int], *terminals: str) -> list[int] | None:
        """Return the stack behind words of these terminals, None where one may not stand."""
        walked = list(stack)
        for terminal in terminals:
            step = self.table[walked[-1]].get(terminal)
            while isinstance(step, Reduction):
                if step.size:
                    del walked[-step.size :]
                walked.append(self.goto(walked[-1], step.rule))
                step = self.table[walked[-1]].get(terminal)
            if step is None:
                return None
            walked.append(step)
        return walked

    def goto(self, state: int, rule: str) -> int:
        """Return the state behind a complete rule that began in a state."""
        target = self.table[state][rule]
        if isinstance(target, Reduction):
            raise TypeError(f"the parse table reduces on the rule {rule!r}")
        return target

    def following(self, stack: Sequence[int]) -> frozenset[str]:
        """Return the terminals that may stand behind what the stack has read."""
        return frozenset(
            terminal
            for terminal in self.table[stack[-1]]
            if terminal.isupper() and self.leads_on(stack, terminal)
        )

    @cached_property
    def starters(self) -> Mapping[str, frozenset[str]]:
        """Block ("file", "part", "leg") -> terminals that begin a statement there."""
        start = [self.start]
        part = self.after(start, "PART", "MARK_TEXT", "LBRACE") or start
        leg = self.after(part, "LEG", "A", "LBRACE") or start
        aside = {"BROKEN", "RBRACE", END}
        blocks = {"file": start, "part": part, "leg": leg}
        return {name: self.following(stack) - aside for name, stack in blocks.items()}

    @cached_property
    def all_starters(self) -> frozenset[str]:
        """Terminals that begin a statement in any block."""
        return frozenset().union(*self.starters.values())

    @cached_property
    def _longest(self) -> int:
        return max(map(len, self.words))

    @cached_property
    def _shortened(self) -> Mapping[str, tuple[str, ...]]:
        found: dict[str, list[str]] = {}
        for word in self.words:
            if len(word) >= _SHORTEST_NEAR:
                for short in _one_less(word):
                    found.setdefault(short, []).append(word)
        return {short: tuple(words) for short, words in found.items()}

    def near(self, text: str, terminals: Iterable[str]) -> str | None:
        """Return the keyword that a misspelt word most likely meant.

        It is one sign off at most: one too many, one missing, one wrong or two exchanged.

        Args:
            text: the word as typed.
            terminals: terminals that may stand in its place.
        """
        wanted = frozenset(terminals)
        fits = [word for word in self.near_words(text) if self.words[word] in wanted]
        return fits[0] if fits else None

    def near_words(self, text: str) -> list[str]:
        """Return all keywords that a word may be a misspelling of, the likeliest first."""
        typed = text.lower()
        if not _SHORTEST_NEAR <= len(typed) <= self._longest + 1:
            return []
        words = {word for short in _one_less(typed) for word in self._shortened.get(short, ())}
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
    """Return the language of part text, built on the first call."""
    from lark import Lark

    parser = Lark(
        grammar_text(), start=_START, parser="lalr", lexer=_outside_lexer(), keep_all_tokens=True
    )
    words: dict[str, str] = {}
    symbols: dict[str, str] = {}
    for terminal in parser.terminals:
        for spelling in _spellings(terminal.pattern.value):
            (words if spelling[0].isalpha() else symbols)[spelling] = terminal.name
    conf = parser.parse_interactive().parser_state.parse_conf
    table = _table(conf.states)
    ends = {"RBRACE", END}
    broken = _shifting(table, "BROKEN")
    return Language(
        table=table,
        start=conf.start_state,
        end=conf.end_state,
        words=words,
        symbols=symbols,
        raw={state: raw for raw in RAW for state in _shifting(table, raw)},
        operands=frozenset().union(
            *(_shifting(table, kind) for kind in ("NUMBER", "DEGREES", "MEASURE"))
        ),
        statements=frozenset(state for state in broken if ends & {*table[state]}),
        heads=frozenset(state for state in broken if not ends & {*table[state]}),
    )


def grammar_text() -> str:
    """Return the text of the grammar file."""
    return resource("grammar", "part.lark").read_text(encoding="utf-8")


def _table(states: Mapping[int, Mapping[Any, tuple[Any, Any]]]) -> dict[int, Row]:
    """Return the library's table with plain names, which are faster to look up."""
    from lark.parsers.lalr_analysis import Shift

    reductions: dict[Any, Reduction] = {}

    def step(action: Any, target: Any) -> int | Reduction:  # noqa: ANN401 - lark's own values
        if action is Shift:
            return int(target)
        if target not in reductions:
            rule = str(target.origin.name)
            reductions[target] = Reduction(
                size=len(target.expansion),
                rule=rule,
                name="" if rule.startswith("_") else str(target.alias or rule),
                is_single=target.options.expand1 and not target.alias,
                has_dissolved=any(symbol.name.startswith("_") for symbol in target.expansion),
            )
        return reductions[target]

    return {
        state: {str(name): step(action, target) for name, (action, target) in row.items()}
        for state, row in states.items()
    }


def _shifting(table: Mapping[int, Row], terminal: str) -> frozenset[int]:
    return frozenset(state for state, row in table.items() if isinstance(row.get(terminal), int))


def _spellings(pattern: str) -> list[str]:
    found = _ALTERNATIVES.fullmatch(pattern)
    return found[1].split("|") if found else [pattern]


def _outside_lexer() -> type:
    from lark.lexer import Lexer

    class OutsideLexer(Lexer):
        """Stands in for a lexer: the words are cut outside."""

        __future_interface__ = 2

        def __init__(self, lexer_conf: object) -> None:
            """Take what the library hands over; nothing of it is needed."""

        def lex(self, lexer_state: object, parser_state: object) -> Any:  # noqa: ANN401, ARG002
            """Give no words."""
            return iter(())

    return OutsideLexer


def _one_less(word: str) -> set[str]:
    return {word, *(word[:n] + word[n + 1 :] for n in range(len(word)))}
