"""The grammar for highlighting: applied line by line as an editor does, held against the tree.

An editor takes, from where it stands on a line, the pattern that matches first; of two at one
place the one that is listed first (as the TextMate manual, "Language Grammars", tells it).
"""

import json
import re
import time
from pathlib import Path

import pytest

from translator.source import Source, lines_of
from translator.syntax.language import language
from translator.syntax.parser import parse_text
from translator.syntax.tree import Word

ROOT = Path(__file__).parent.parent
GRAMMAR = json.loads((ROOT / "grammar" / "backmark.tmLanguage.json").read_text(encoding="utf-8"))
PATTERNS = [(re.compile(each["match"]), each) for each in GRAMMAR["patterns"]]
SAMPLES = sorted((ROOT / "samples").rglob("*.bmk"))
PAGE = (ROOT / "grammar" / "README.md").read_text(encoding="utf-8")
EXAMPLES = [piece.split("```")[0] for piece in PAGE.split("```bmk\n")[1:]]
TEXTS = [pytest.param(p.read_text(encoding="utf-8"), id=p.stem) for p in SAMPLES]
TEXTS += [pytest.param(text, id=f"page-{n}") for n, text in enumerate(EXAMPLES)]

WORD = ("keyword.", "storage.", "constant.language.")
WANTED = {
    "NUMBER": ("constant.numeric.",),
    "DEGREES": ("constant.numeric.angle.",),
    "MEASURE": ("constant.numeric.measure.",),
    "STRING": ("string.quoted.", "entity.name.", "string.unquoted.", "support.function."),
    "BARE": ("string.unquoted.",),
    "MARK_TEXT": ("entity.name.type.",),
    "BOLT_SIZE": ("constant.numeric.bolt.",),
    "RULE_NAME": ("support.function.rule.",),
    "DATE": ("constant.other.date.",),
    "NAME": ("variable.", "entity.name.function."),
    "IDENT": ("variable.",),
    "COMMA": ("punctuation.",),
    "LBRACE": ("punctuation.",),
    "RBRACE": ("punctuation.",),
    "LPAR": ("punctuation.",),
    "RPAR": ("punctuation.",),
}


def scopes(line):
    """Return the scope of each character of a line, "" for none."""
    found, at = [""] * len(line), 0
    while at < len(line):
        hits = [(hit.start(), hit, each) for rx, each in PATTERNS if (hit := rx.search(line, at))]
        if not hits:
            break
        _, hit, each = min(hits, key=lambda h: h[0])
        spans = [(hit.span(), each.get("name", ""))]
        spans += [(hit.span(int(n)), c["name"]) for n, c in each.get("captures", {}).items()]
        for (begin, end), name in spans:
            found[begin:end] = [name or old for old in found[begin:end]]
        assert hit.end() > at, "a pattern that matches nothing would stand still"
        at = hit.end()
    return found


def words_of(node):
    for child in node.children:
        if isinstance(child, Word):
            yield child
        else:
            yield from words_of(child)


def test_it_is_a_grammar_of_part_text():
    assert GRAMMAR["scopeName"] == "source.bmk"
    assert GRAMMAR["fileTypes"] == ["bmk"]
    names = [each["name"] for each in GRAMMAR["patterns"] if "name" in each]
    names += [c["name"] for each in GRAMMAR["patterns"] for c in each.get("captures", {}).values()]
    assert all(name.endswith(".bmk") for name in names)


@pytest.mark.parametrize("word", sorted(language().words))
@pytest.mark.parametrize("case", [str, str.upper], ids=["small", "large"])
def test_every_keyword_is_coloured(word, case):
    line = f"  {case(word)} "
    told = set(scopes(line)[2 : 2 + len(word)])
    assert len(told) == 1
    assert told.pop().startswith(WORD)


@pytest.mark.parametrize("text", TEXTS)
def test_the_colours_are_those_of_the_tree(text):
    tree = parse_text(Source(path="x.bmk", data=text.encode()))
    coloured = [scopes(line) for line in lines_of(text)]
    for comment in tree.comments:
        begin = comment.column - 1
        told = coloured[comment.line - 1][begin : begin + len(comment.text)]
        assert set(told) == {"comment.line.number-sign.bmk"}
    if tree.faults:
        return
    for word in words_of(tree.root):
        if word.type == "SECTION_TEXT":
            told = coloured[word.line - 1][word.column - 1]
            assert told == "entity.name.tag.section.bmk", word
            continue
        begin = word.column - 1
        told = coloured[word.line - 1][begin : begin + len(word.text)]
        wanted = WANTED.get(word.type, WORD)
        if word.type == "NAME" and word.text.lower() in language().words:
            wanted = (
                *wanted,
                *WORD,
            )  # keywords are not reserved; what a name means, no line can tell
        assert all(each.startswith(wanted) for each in told), (word, told)


@pytest.mark.parametrize("text", TEXTS)
def test_every_sign_of_a_sample_has_a_colour(text):
    for line in lines_of(text):
        for sign, scope in zip(line, scopes(line), strict=True):
            assert scope or sign.isspace()


LONG = 3000
NASTY = [
    "1",
    "1 ",
    "1/",
    "9'-",
    "9' - ",
    '"',
    '""',
    "section ",
    "section L1x",
    " ",
    "-",
    "a1",
    "=a ",
]
NASTY += ["\u201c", "bolt M", "waive ", "1 deg", "2000-01-", "part ", "(", "second work ", "ft "]


@pytest.mark.parametrize("piece", NASTY, ids=ascii)
def test_no_pattern_takes_long_over_a_long_line(piece):
    line = piece * (LONG // len(piece))
    for rx, each in PATTERNS:
        for tried in (line, line + "\0", "section " + line, "1" + line):
            begin = time.process_time()
            for hit in rx.finditer(tried):
                assert hit.end() > hit.start()
            assert time.process_time() - begin < 0.5, each
