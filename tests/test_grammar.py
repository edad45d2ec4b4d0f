"""The grammar: unambiguous, its words all documented, its reference page true."""

import re
from pathlib import Path

import pytest
from bmk_reading import part, printed, read
from lark import Lark

from translator.json_text import json_text
from translator.syntax.building import grammar_text, table_document
from translator.syntax.ebnf import summary
from translator.syntax.language import language
from translator.syntax.table import END, Reduction

ROOT = Path(__file__).parent.parent
PAGE = (ROOT / "grammar" / "README.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^```bmk\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)


def test_the_grammar_builds_in_strict_mode():
    parser = Lark(grammar_text(), start="file", parser="lalr", strict=True)
    assert len(parser.rules) > 100


def test_a_strict_build_would_find_a_conflict():
    doubled = grammar_text().replace("_setting: order |", "_setting: order | phase grade | phase |")
    assert doubled != grammar_text()
    with pytest.raises(Exception, match="conflict"):
        Lark(doubled, start="file", parser="lalr", strict=True)


def test_the_language_is_read_once():
    assert language() is language()


def test_the_table_is_the_grammars():
    kept = (ROOT / "grammar" / "part.table.json").read_bytes().decode()
    assert kept == json_text(table_document()), "run `python .ci/fresh.py`"


def test_no_state_takes_two_raw_words():
    raw = ("MARK_TEXT", "BARE", "SECTION_TEXT", "BOLT_SIZE", "RULE_NAME", "DATE")
    rows = language().table.rows
    taken = {
        state: [kind for kind in raw if isinstance(row.get(kind), int)]
        for state, row in rows.items()
    }
    assert max(map(len, taken.values())) == 1
    assert {kind for kinds in taken.values() for kind in kinds} == set(raw)


def test_every_state_leads_on():
    for state, row in language().table.rows.items():
        assert row or state == language().table.end
        assert all(isinstance(step, int | Reduction) for step in row.values())


def test_a_broken_statement_may_stand_wherever_a_statement_may():
    grammar = language()
    assert len(grammar.statements) > 5
    for state in grammar.statements:
        assert {"RBRACE", END} & {*grammar.table.rows[state]}


@pytest.mark.parametrize("word", sorted(language().words))
def test_every_keyword_is_on_the_reference_page(word):
    assert re.search(rf"(?<![a-z]){re.escape(word)}(?![a-z])", PAGE, re.IGNORECASE)


def test_the_reference_page_has_examples():
    assert len(EXAMPLES) >= 9


@pytest.mark.parametrize("text", EXAMPLES, ids=range(len(EXAMPLES)))
def test_examples_of_the_reference_page_give_nothing_above_a_note(text):
    reading = read(text)
    assert [f for f in reading.findings if f.severity != "note"] == []
    assert len(reading.parts) == len(re.findall(r"^part ", text, re.MULTILINE))


@pytest.mark.parametrize("text", EXAMPLES, ids=range(len(EXAMPLES)))
def test_parts_of_the_reference_page_print_and_read_back(text):
    for placed in read(text).parts:
        again = printed(placed.part)
        assert part(again) == placed.part
        assert printed(part(again)) == again


def test_the_limits_of_the_reference_page_are_those_of_the_code():
    from translator.readers.part_text import _book as book
    from translator.readers.part_text import _families as families
    from translator.readers.part_text._positions import MOST_FEATURES
    from translator.syntax.limits import FREE_FEATURES, most_features
    from translator.syntax.machine import DEEPEST
    from translator.syntax.parser import LARGEST_BYTES

    told = " ".join(PAGE.split())
    assert f"{LARGEST_BYTES:,} bytes".replace(",", " ") in told
    assert f"{MOST_FEATURES:,} features a leg".replace(",", " ") in told
    assert f"{FREE_FEATURES:,} features a file".replace(",", " ") in told
    assert most_features(40) - FREE_FEATURES == 10
    assert f"{DEEPEST} brackets in brackets" in told
    assert f"up to {families.DEEPEST} of them in a line" in told
    bring = book.Book("x.bmk", 0).most_words
    assert f"may bring {bring:,} words".replace(",", " ") in told
    assert book.Book("x.bmk", 100).most_words - bring == 200


def test_the_summary_names_every_rule_and_every_word_of_the_grammar():
    text = grammar_text()
    rules = {name.strip("_") for name in re.findall(r"(?m)^\??(_?[a-z]\w*):", text)} - {"broken"}
    defined = {line.split(" = ")[0] for line in summary().splitlines() if " = " in line}
    assert {name.replace("_", "-") for name in rules} == defined
    words = set(re.findall(r'(?m)^[A-Z_]+: "([^"]*)"', text))
    assert words == set(re.findall(r'"(@|[a-z][a-z-]*)"', summary()))
