"""Sentences for faults of the spelling, in words of the trade, never in the grammar's own."""

from collections.abc import Iterable, Sequence
from functools import cache
from types import MappingProxyType
from typing import Final

from translator.lengths.characters import shown
from translator.syntax.cutter import BAD_NUMBER, STRAY, UNKNOWN
from translator.syntax.language import Language, language
from translator.syntax.table import END
from translator.syntax.tree import Word

_NOUNS: Final = MappingProxyType(
    {
        "NUMBER": "a length",
        "DEGREES": "an angle like `15deg`",
        "MEASURE": "a figure with its unit like `12.2kg/m`",
        "BARE": "a text",
        "MARK_TEXT": "a mark",
        "SECTION_TEXT": "a section like `L4x3-1/2x3/8`",
        "BOLT_SIZE": "a bolt like `3/4` or `M20`",
        "RULE_NAME": "the name of a rule",
        "IDENT": "a feature like `a3`",
        "DATE": "a date like `2027-01-31`",
        "NAME": "a name",
        "STRING": "a text in quotes",
    }
)
"""What a word that is no keyword is called, in the order of mention."""

_COVERED: Final = MappingProxyType(
    {
        "NUMBER": ("NAME", "LPAR", "MINUS", "DIAMETER"),
        "DEGREES": ("MINUS",),
        "BARE": ("STRING",),
        "MARK_TEXT": ("STRING",),
        "SECTION_TEXT": ("STRING", "ANGLE", "FLAT"),
        "RULE_NAME": ("STRING",),
        "IDENT": ("ID",),
    }
)
"""What need not be named beside a noun."""

_COUNTED: Final = frozenset({"QUANTITY", "HOLE", "SLOT", "OPENING", "MARK", "SCRIBE", "STAMP"})
_HOMES: Final = MappingProxyType(
    {
        "file": "stands above the parts, outside their braces",
        "part": "belongs in a part, outside the braces of a leg or face",
        "leg": "belongs inside `leg a { }`, `leg b { }` or `face { }`",
    }
)
_HOLDERS: Final = MappingProxyType({"file": "a file", "part": "a part", "leg": "a leg or face"})
_TEXTS: Final = frozenset(
    {
        *("ORDER", "DRAWING", "REVISION", "GRADE", "PHASE", "LOT", "FINISH"),
        *("REMARK", "SECOND", "CARRIED"),
    }
)
"""First words of statements that hold a text."""

_MOST_NAMED: Final = 6


def quoted_word(text: str) -> str:
    """Return a word as a sentence quotes it."""
    return f"`{shown(text)}`"


def misspelt(word: Word, near: str) -> str:
    """Return the sentence for a word that is nearly a keyword."""
    return f"{quoted_word(word.text)} is no word known here: did you mean `{near}`?"


def unreadable(word: Word) -> str | None:
    """Return the sentence for a word that means nothing anywhere, None for any other."""
    if word.type == BAD_NUMBER:
        return f"{quoted_word(word.text)} is neither a number nor a word."
    if word.type == STRAY:
        sign = quoted_word(word.text) if word.text.isprintable() else f"U+{ord(word.text):04X}"
        return f"The character {sign} has no meaning here."
    return None


def out_of_place(word: Word, block: str) -> str:
    """Return the sentence for a word that begins no statement where one may begin.

    Args:
        word: the word met.
        block: "file", "part" or "leg": the block it is met in.
    """
    if word.type == "RBRACE":
        return "This `}` closes nothing: no `{` is open here."
    for home, starters in language().starters.items():
        if word.type in starters:
            return f"{quoted_word(word.text)} {_HOMES[home]}."
    kind = "is no word known here" if word.type == UNKNOWN else "begins no statement here"
    return f"{quoted_word(word.text)} {kind}: {_holds(block)}."


@cache
def _holds(block: str) -> str:
    grammar = language()
    told = ", ".join(f"`{name}`" for name in _spelled(grammar, grammar.starters[block]))
    return f"{_HOLDERS[block]} holds {told}"


def superfluous(word: Word, first: Word) -> str:
    """Return the sentence for a word behind a statement that was complete without it."""
    if first.type in _TEXTS:
        return f"{quoted_word(word.text)} has no meaning here: a text with blanks is put in quotes."
    return (
        f"{quoted_word(word.text)} has no meaning here:"
        f" the statement that begins with {quoted_word(first.text)} was complete before it."
    )


def expected(following: Iterable[str], previous: Word | None, word: Word, *, fresh: bool) -> str:
    """Return the sentence for a word that stands where something else is needed.

    Args:
        following: terminals that may stand there.
        previous: the word before, None at the beginning.
        word: the word met.
        fresh: it is the first on its line.
    """
    if previous is not None and previous.type == "MARK_TEXT" and not fresh and word.type != END:
        return (
            f"{quoted_word(word.text)} has no meaning after the mark {quoted_word(previous.text)}:"
            " a mark with blanks or signs in it is put in quotes."
        )
    wanted = _wanted(frozenset(following), previous)
    after = f" after {quoted_word(previous.text)}" if previous is not None else ""
    if word.type == END:
        return f"{wanted} is missing{after}: the file ends here."
    if fresh:
        return f"{wanted} is missing{after}: the line ends here."
    return f"{wanted} is needed{after}, not {quoted_word(word.text)}."


def _wanted(following: frozenset[str], previous: Word | None) -> str:
    left = set(following)
    named: list[str] = []
    for terminal, noun in _NOUNS.items():
        if terminal not in left:
            continue
        counted = previous is not None and previous.type in _COUNTED
        named.append("a count" if terminal == "NUMBER" and counted else noun)
        left.difference_update((terminal, *_COVERED.get(terminal, ())))
    named += [f"`{name}`" for name in _spelled(language(), left)]
    if len(named) > _MOST_NAMED:
        named = [*named[:_MOST_NAMED], "something like it"]
    text = _either(named) if named else "something else"
    return text[0].upper() + text[1:]


def _spelled(language: Language, terminals: Iterable[str]) -> list[str]:
    return sorted({language.spelled(terminal) for terminal in set(terminals) - {END, "BROKEN"}})


def _either(named: Sequence[str]) -> str:
    return named[0] if len(named) == 1 else f"{', '.join(named[:-1])} or {named[-1]}"
