"""Any text with families in it: findings, never an exception, a hang or a large memory."""

import random
import time

import pytest
from bmk_reading import read
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.conventions import Conventions
from translator.findings import in_order
from translator.readers.part_text import READER
from translator.source import Source

MOST_SECONDS = 2.0
NAME = "shop/x.bmk"
SAMPLE = """\
use "lib.bmk"
units inch
family clip(rows, pitch = 3, line = 2-1/2) {
  section L4x3-1/2x3/8
  length  2 * 1-1/4 + (rows - 1) * pitch
  leg a { holes 13/16 gauge line, line + 1/2 staggered at 1-1/4, (rows - 1) @ pitch }
}
family more(rows) = clip(rows = rows, pitch = 2 * 1-1/2) {
  both legs { hole 1 gauge 2 at rows * 1in }
}
part C20 = clip(rows = 5) { quantity 8 mitre both ends 5deg, long at toe of leg a }
part C21 "two" = more(rows = 3) { waive end-distance-short on leg a hole 1 "r" }
part C21R opposite C21 { quantity 6 }
part T1 = tab(n = 3) { grade A36 }
part T1R opposite T1 { }
"""
LIBRARY = """\
use "other.bmk"
units mm
family tab(n, pitch = 70mm) { section FB100x10 length 80mm + (n - 1) * pitch }
"""
WORDS = (
    *("family", "part", "use", "opposite", "both", "legs", "ends", "staggered", "=", "(", ")"),
    *("clip", "more", "tab", "rows", "pitch", "n", ",", "{", "}", "C20", "C21R", "3", "1/2", "*"),
    *("-", "@", "at", "from", '"lib.bmk"', '"x.bmk"', "units", "mm", "inch", "#", "\n", '"', "0"),
)


def survives(text, library=LIBRARY):
    """Read a text that uses a library, twice; assert that findings are sound and the same."""
    files = {"shop/lib.bmk": library.encode(), "shop/other.bmk": text.encode()}
    source = Source(path=NAME, data=text.encode(), library=files)
    begun = time.process_time()
    reading = READER.lower(READER.parse(source), Conventions())
    assert time.process_time() - begun < MOST_SECONDS
    lines = text.replace("\r\n", "\n").replace("\r", "\n").count("\n") + 1
    for finding in in_order(reading.findings):
        assert finding.span.path == NAME
        assert 1 <= finding.span.line <= finding.span.end_line <= lines
        assert finding.message.strip()
        for related in finding.related:
            assert related.span.path in {NAME, *files}
    for placed in reading.parts:
        assert set(placed.beyond) <= set(placed.places)
        assert {span.path for span in placed.places.values()} == {NAME}
    assert READER.lower(READER.parse(source), Conventions()) == reading
    return reading


def test_the_sample_itself_is_read():
    assert [placed.part.mark for placed in survives(SAMPLE).parts] == [
        *("C20", "C21", "C21R", "T1", "T1R"),
    ]


@pytest.mark.parametrize("seed", range(6))
def test_random_words(seed):
    source = random.Random(seed)
    for _ in range(25):
        survives(" ".join(source.choices(WORDS, k=source.randrange(120))))


@pytest.mark.parametrize("seed", range(8))
def test_mutated_text(seed):
    source = random.Random(seed)
    for _ in range(12):
        texts = [SAMPLE, LIBRARY]
        for _ in range(source.randrange(1, 8)):
            which = source.randrange(2)
            text = texts[which]
            at = source.randrange(len(text))
            texts[which] = source.choice(
                (
                    text[:at] + text[at + source.randrange(1, 30) :],
                    f"{text[:at]} {source.choice(WORDS)} {text[at:]}",
                    text[:at] + text[source.randrange(len(text)) :][:60] + text[at:],
                )
            )
        survives(*texts)


@st.composite
def files_of_families(draw):
    """Draw files in which families build on each other and call for each other's numbers."""
    number = draw(st.integers(1, 6))
    which = st.integers(0, number)
    lines = []
    for n in range(number):
        names = [f"p{k}" for k in range(draw(st.integers(0, 3)))]
        defaults = [draw(st.sampled_from(["", " = 3", " = 2mm", " = p0 * 2"])) for _ in names]
        head = ", ".join(name + default for name, default in zip(names, defaults, strict=True))
        base = draw(st.sampled_from(["", f" = f{draw(which)}(p0 = 3)", f" = f{draw(which)}()"]))
        length = draw(st.sampled_from(["", "length 300", "length 100 * p0", "length p1 + 90"]))
        lines.append(f"family f{n}({head}){base} {{ section FB100x10 {length} }}")
    for n in range(draw(st.integers(1, 4))):
        arguments = draw(st.sampled_from(["", "p0 = 2", "p0 = 2, p1 = 30", "p1 = 1in, p0 = 1"]))
        lines.append(f"part P{n} = f{draw(which)}({arguments}) {{ }}")
        lines.append(f"part Q{n} opposite P{draw(st.integers(0, 3))} {{ }}")
    return "units mm\n" + "\n".join(draw(st.permutations(lines)))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(files_of_families())
def test_families_of_families(text):
    reading = survives(text)
    marks = {placed.part.mark for placed in reading.parts}
    refused = {finding.mark for finding in reading.findings if finding.severity == "error"}
    assert not marks & refused
    every = {line.split()[1] for line in text.splitlines() if line.startswith("part")}
    assert every == marks | (refused - {""})


DEEP = "(" * 30 + "n" + ")" * 30
MEAN = {
    "deep sums": f"family f(n, m = {DEEP}) {{ length {DEEP} }}\n" * 40,
    "too deep a sum": f"family f(n, m = {'(' * 12_000}",
    "many parameters": f"family f({', '.join(f'p{n}' for n in range(3_000))}) {{ }}",
    "many defaults": f"family f(q{', '.join(f'p{n} = q' for n in range(2_000))}) {{ }}",
    "many arguments": f"part P = f({', '.join(f'p{n} = 1' for n in range(3_000))}) {{ }}"
    " family f() { }",
    "many families": "\n".join(f"family f{n}() {{ }}" for n in range(1_000)),
    "one name for all families": "family f() { }\n" * 1_000,
    "many unknown families": "\n".join(f"part P{n} = f{n}() {{ }}" for n in range(600)),
    "a long line of families": "\n".join(f"family f{n}() = f{n + 1}() {{ }}" for n in range(600)),
    "a large ring of families": "\n".join(
        f"family f{n}() = f{(n + 1) % 600}() {{ }}" for n in range(600)
    ),
    "many uses": "\n".join(f'use "f{n}.bmk"' for n in range(1_000)),
    "one use again and again": 'use "lib.bmk"\n' * 500,
    "many opposites of nothing": "\n".join(f"part P{n} opposite Q{n} {{ }}" for n in range(600)),
    "opposites in a line": "\n".join(f"part P{n} opposite P{n + 1} {{ }}" for n in range(600)),
    "one mark for all": "part P opposite P { }\n" * 600,
    "families in families": "family f() { " * 1_000,
    "names of a thousand letters": f"family f({'n' * 6_000}) {{ length {'m' * 6_000} }}",
}


@pytest.mark.parametrize("text", MEAN.values(), ids=MEAN)
def test_mean_texts(text):
    begun = time.process_time()
    read(text)
    assert time.process_time() - begun < MOST_SECONDS


def test_a_large_file_of_calls_is_read_fast():
    family = SAMPLE.partition("family more")[0].split("\n", 1)[1]
    calls = "\n".join(f"part C{n} = clip(rows = {n % 7 + 2}) {{ quantity 8 }}" for n in range(400))
    begun = time.process_time()
    reading = read(family + calls)
    assert time.process_time() - begun < 2 * MOST_SECONDS
    assert len(reading.parts) == 400
