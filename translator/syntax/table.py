"""The parse table: states, what may follow in each, and what complete rules lead to.

The parser library makes it from the grammar (see ``building``); the run over it is this room's
own, because recovery from faults needs the stack of states in its hands.
"""

from collections.abc import Mapping, Sequence
from typing import Any, Final, NamedTuple

from msgspec import Struct

END: Final = "$END"
"""The terminal that stands at the end of a text."""


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


class Table(Struct, frozen=True, kw_only=True):
    """A parse table.

    Attributes:
        rows: the row of each state.
        start: the state at the beginning of a text.
        end: the state in which the end of the text closes the last rule.
    """

    rows: Mapping[int, Row]
    start: int
    end: int

    def goto(self, state: int, rule: str) -> int:
        """Return the state behind a complete rule that began in a state."""
        target = self.rows[state][rule]
        if isinstance(target, Reduction):
            raise TypeError(f"the parse table reduces on the rule {rule!r}")
        return target

    def after(self, stack: Sequence[int], *terminals: str) -> list[int] | None:
        """Return the stack behind words of these terminals, None where one may not stand."""
        walked = list(stack)
        for terminal in terminals:
            step = self.rows[walked[-1]].get(terminal)
            while isinstance(step, Reduction):
                if step.size:
                    del walked[-step.size :]
                walked.append(self.goto(walked[-1], step.rule))
                step = self.rows[walked[-1]].get(terminal)
            if step is None:
                return None
            walked.append(step)
        return walked

    def leads_on(self, stack: Sequence[int], terminal: str) -> bool:
        """Tell whether a word of that terminal may stand behind what the stack has read."""
        return self.after(stack, terminal) is not None

    def following(self, stack: Sequence[int]) -> frozenset[str]:
        """Return the terminals that may stand behind what the stack has read."""
        return frozenset(
            terminal
            for terminal in self.rows[stack[-1]]
            if terminal.isupper() and self.leads_on(stack, terminal)
        )

    def shifting(self, terminal: str) -> frozenset[int]:
        """Return the states in which a word of that terminal stands by itself."""
        return frozenset(
            state for state, row in self.rows.items() if isinstance(row.get(terminal), int)
        )


def table_of(document: Mapping[str, Any]) -> Table:
    """Return the table of a document that ``building`` made."""
    rules = [Reduction(**rule) for rule in document["rules"]]
    sets = [words.split() for words in document["sets"]]
    rows: dict[int, Row] = {}
    for state, row in enumerate(document["states"]):
        steps: dict[str, int | Reduction] = row["shifts"]
        for rule, words in row["complete"]:
            steps.update(dict.fromkeys(sets[words], rules[rule]))
        rows[state] = steps
    return Table(rows=rows, start=0, end=document["end"])
