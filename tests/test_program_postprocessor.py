"""The sample postprocessor's listing, read back by a tokenizer of ISO 6983 words.

A block is an optional block number N, then words of one address letter and one number, with
comments in round brackets that do not nest; a programme stands between two lines of "%".
ISO 6983-1 (from memory).
"""

import json
import re
import runpy
import subprocess
import sys
from pathlib import Path

import pytest
from bar_machines import odd
from bar_orders import NAMES, order, shop
from machine_parts import hole
from program_bars import bar, part, piece, program

from translator.bars.program import program_of
from translator.bars.program_document import program_json

SCRIPT = Path(__file__).parent.parent / "samples" / "postprocessor" / "iso_listing.py"
LISTING = runpy.run_path(str(SCRIPT))["listing"]
WORD = re.compile(r"([A-Z])([+-]?\d+(?:\.\d+)?)")
COMMENT = re.compile(r"\([^()]*\)")


def blocks(text):
    """Return the words of each block as letter and number; all of it must be words."""
    assert text.isascii()
    first, *lines, last, end = text.split("\n")
    assert (first, last, end) == ("%", "%", "")
    out = []
    for line in lines:
        bare = COMMENT.sub("", line).strip()
        assert "(" not in bare
        assert ")" not in bare
        words = bare.split()
        found = [WORD.fullmatch(word) for word in words]
        assert all(found), line
        if words:
            out.append([(match[1], float(match[2])) for match in found])
    return out


def documents():
    for own in (*(shop(name) for name in NAMES), odd("mills"), odd("nibbles")):
        bars, parts = order(4, own)
        for one in bars:
            yield json.loads(program_json(program_of(one, parts, own.model)))


def stops(document):
    return [step for step in document["program"]["steps"] if step["kind"] == "stop"]


def test_every_block_is_made_of_words_and_numbered_in_order():
    for document in documents():
        made = blocks(LISTING(document))
        numbers = [block[0] for block in made]
        assert all(letter == "N" for letter, _ in numbers)
        assert numbers == sorted(set(numbers))
        for block in made:
            letters = [letter for letter, _ in block if letter not in "GM"]
            assert len(letters) == len(set(letters))
        assert made[0][1:] == [("G", 71.0), ("G", 90.0)]
        assert made[-1][1:] == [("M", 2.0)]


def test_everything_that_is_done_is_listed_in_its_order():
    codes = {"punch": 21, "drill": 22, "mill": 23, "mark": 24}
    for document in documents():
        listed = [
            int(number)
            for block in blocks(LISTING(document))
            for letter, number in block
            if letter == "M" and 20 < number < 30
        ]
        done = [
            codes[op["process"]] if "process" in op else {"stamp": 25, "cut": 26}[op["kind"]]
            for stop in stops(document)
            for op in stop["operations"]
        ]
        assert listed == done


def test_the_bar_stands_where_the_program_says_at_each_hit():
    for document in documents():
        at, found = None, []
        for block in blocks(LISTING(document)):
            words = dict(block)
            at = words.get("X", at)
            if words.get("M", 0.0) in (21.0, 22.0, 24.0, 26.0):
                found.append(at)
        wanted = [
            round(stop["feed_mm"], 3) + 0.0
            for stop in stops(document)
            for op in stop["operations"]
            if op.get("process", op["kind"]) in ("punch", "drill", "mark", "cut")
        ]
        assert found == wanted


def test_the_listing_says_that_it_is_an_example():
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)])
    text = LISTING(json.loads(program_json(program(bar(piece(one)), [one]))))
    assert text.split("\n")[1] == "(EXAMPLE LISTING - NOT TO BE RUN ON A MACHINE)"
    assert "(These checks are an aid)" in text
    readme = SCRIPT.with_name("README.md").read_text(encoding="utf-8")
    assert "example, not to be run on a machine" in " ".join(readme.replace("*", "").split())


def test_a_mark_can_not_leave_its_comment():
    """Brackets, a line of its own and letters that are not ASCII: all stay in the comment."""
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)], mark="W)M2(\u00e9\u2028N1")
    text = LISTING(json.loads(program_json(program(bar(piece(one)), [one]))))
    assert [block[1:] for block in blocks(text)].count([("M", 2.0)]) == 1


def test_a_program_that_can_not_be_made_gives_no_listing():
    document = json.loads(program_json(program(bar(piece(part())), [])))
    with pytest.raises(SystemExit, match="bar-001 can't be made"):
        LISTING(document)


def test_another_document_gives_no_listing():
    with pytest.raises(SystemExit, match="not a bar program"):
        LISTING({"format": "backmark/part", "version": "1.0"})


def test_it_runs_as_a_script(tmp_path):
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)])
    text = program_json(program(bar(piece(one)), [one]))
    path = tmp_path / "bar-001.program.json"
    path.write_text(text, encoding="utf-8")
    ran = subprocess.run(
        [sys.executable, "-I", str(SCRIPT), str(path)], capture_output=True, text=True, check=True
    )
    assert ran.stdout == LISTING(json.loads(text))
