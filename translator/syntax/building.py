"""The parse table made from the grammar by the parser library, as a document to be kept.

The library takes half a second for it, so it is done once, by ``.ci/fresh.py``, and every run reads
``grammar/part.table.json``. States are numbered in the order in which words lead to them from
the beginning of a text, so the same grammar gives the same document on any machine.
"""

import re
from typing import Any, Final

from translator.resources import resource
from translator.syntax.table import Reduction

_START: Final = "file"
_ALTERNATIVES: Final = re.compile(r"\(\?:([^()?*+\[\]]+)\)")

Rows = dict[int, dict[str, int | Reduction]]


def grammar_text() -> str:
    """Return the text of the grammar file."""
    return resource("grammar", "part.lark").read_text(encoding="utf-8")


def table_document() -> dict[str, object]:
    """Return the spellings and the parse table of the grammar, built anew."""
    from lark import Lark

    parser = Lark(
        grammar_text(), start=_START, parser="lalr", lexer=_outside_lexer(), keep_all_tokens=True
    )
    made = parser.parse_interactive().parser_state.parse_conf
    rows, end = _renumbered(_plain_rows(made.states), made.start_state, made.end_state)
    words: dict[str, str] = {}
    symbols: dict[str, str] = {}
    for terminal in parser.terminals:
        for spelling in _spellings(terminal.pattern.value):
            (words if spelling[0].isalpha() else symbols)[spelling] = terminal.name
    return {"words": words, "symbols": symbols, "end": end, **_packed(rows)}


def _packed(rows: Rows) -> dict[str, object]:
    """Return rows with each rule and each set of words that complete one written once."""
    rules: dict[Reduction, int] = {}
    sets: dict[str, int] = {}
    states = []
    for row in rows.values():
        ahead: dict[int, list[str]] = {}
        for name, step in row.items():
            if isinstance(step, Reduction):
                ahead.setdefault(rules.setdefault(step, len(rules)), []).append(name)
        complete = [
            [rule, sets.setdefault(" ".join(names), len(sets))] for rule, names in ahead.items()
        ]
        shifts = {name: step for name, step in row.items() if isinstance(step, int)}
        states.append({"shifts": shifts, "complete": complete})
    return {"rules": [rule._asdict() for rule in rules], "sets": list(sets), "states": states}


def _plain_rows(states: Any) -> Rows:  # noqa: ANN401 - the library's own type stays here
    """Return the library's rows with plain names, which are faster to look up."""
    from lark.parsers.lalr_analysis import Shift

    return {
        state: {
            str(name): int(target) if action is Shift else _reduction(target)
            for name, (action, target) in row.items()
        }
        for state, row in states.items()
    }


def _reduction(rule: Any) -> Reduction:  # noqa: ANN401 - the library's own type stays here
    name = str(rule.origin.name)
    return Reduction(
        size=len(rule.expansion),
        rule=name,
        name="" if name.startswith("_") else str(rule.alias or name),
        is_single=rule.options.expand1 and not rule.alias,
        has_dissolved=any(symbol.name.startswith("_") for symbol in rule.expansion),
    )


def _renumbered(rows: Rows, start: int, end: int) -> tuple[Rows, int]:
    """Number the states by the way words lead to them, 0 at the start; return the end's too."""
    numbers = {start: 0}
    queue = [start]
    for state in queue:
        for _, step in sorted(rows[state].items(), key=lambda item: item[0]):
            if isinstance(step, int) and step not in numbers:
                numbers[step] = len(numbers)
                queue.append(step)
    ordered: Rows = {}
    for state in queue:
        row = sorted(rows[state].items(), key=lambda item: item[0])
        ordered[numbers[state]] = {
            name: numbers[step] if isinstance(step, int) else step for name, step in row
        }
    return ordered, numbers[end]


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
