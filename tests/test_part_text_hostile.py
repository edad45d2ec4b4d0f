"""Any bytes: findings, never an exception, a hang or a large memory.

The time limits are several times what a quiet machine needs, and far below what a cost that
grows with the square of the input would take.
"""

import random
import time

import pytest
from bmk_reading import in_mm, on_leg, printed, read

from translator.findings import Finding, in_order
from translator.syntax.language import language

MOST_SECONDS = 2.0
LENGTH = 12_000
SAMPLE = """\
units inch
order "TQ-7"   drawing "E-104"  revision "B"
part C12 "beam clip" {
  section  L4x3-1/2x3/8   length   11-1/2   quantity 24   # a comment
  mitre far 15deg from square, long at toe of leg a
  leg a {
    cope start toe 2 long x 1 deep radius 1/2
    holes 13/16 bolt 3/4  gauge 2-1/2  at 1-1/4, 3 @ 3 = 9
    opening from 1,1 arc radius 1 bowed toe to 2,2 to 3,1 close
  }
  leg b {
    slots 13/16 x 1 across leg  gauge 2  spaces 1-1/4, 3 @ 3 = 9, 1-1/4 to end
    stamp mark at 5-1/4 from heel 1-1/8 height 3/8
  }
  waive edge-distance-short on leg a hole 3 at 15/16 "RFI 17: accepted" by "QA" until 2027-01-31
}
part B7R opposite B7 { quantity 6 }
family clip(rows, pitch = 3) { length 2 * 1-1/4 + (rows - 1) * pitch }
part C20 = clip(rows = 5) { quantity 8 }
"""
OTHER_WORDS = (
    *("3", "1/2", "13/16", "9'-4 1/2\"", "15deg", "12kg/m", '"x"', '"', "\u201c", "#", "\n", "\r"),
    *("L4x3-1/2x3/8", "P1", "a1", "$", "3abc", "edge-x", "0.5", "1000000000", "\u00bd", "\x00"),
    *("{", "}", "{", "}", "part P { section L3x3x1/4 length 5", "\u00d8", "\ufeff", "\u2028"),
)


def survives(text):
    """Read a text twice; assert that findings are sound and the same, and give the parts."""
    begun = time.process_time()
    reading = read(text)
    assert time.process_time() - begun < MOST_SECONDS
    signs = text if isinstance(text, str) else text.decode("latin-1")
    lines = signs.replace("\r\n", "\n").replace("\r", "\n").count("\n") + 1
    for finding in in_order(reading.findings):
        assert isinstance(finding, Finding)
        span = finding.span
        assert span.line >= 1
        assert span.column >= 1
        assert (span.line, span.column) <= (span.end_line, span.end_column)
        assert span.end_line <= lines
        assert finding.message.strip()
    assert read(text) == reading
    return reading


def seeded(seed):
    return random.Random(seed)


def all_words():
    return [*sorted(language().words), *sorted(language().symbols), *OTHER_WORDS]


@pytest.mark.parametrize("seed", range(4))
def test_random_bytes(seed):
    source = seeded(seed)
    for _ in range(20):
        survives(source.randbytes(source.randrange(300)))


@pytest.mark.parametrize("seed", range(4))
def test_random_words(seed):
    source, words = seeded(seed), all_words()
    for _ in range(20):
        survives(" ".join(source.choices(words, k=source.randrange(150))))


@pytest.mark.parametrize("seed", range(8))
def test_mutated_text(seed):
    source, words = seeded(seed), all_words()
    for _ in range(12):
        text = SAMPLE
        for _ in range(source.randrange(1, 10)):
            at = source.randrange(len(text))
            text = source.choice(
                (
                    text[:at] + text[at + source.randrange(1, 30) :],
                    text[:at] + source.choice(words) + text[at:],
                    text[:at] + chr(source.randrange(256)) + text[at + 1 :],
                    text[:at] + text[source.randrange(len(text)) :][:60] + text[at:],
                )
            )
        survives(text)


@pytest.mark.parametrize("cut", range(0, len(SAMPLE), 61))
def test_cut_off_text(cut):
    reading = survives(SAMPLE[:cut])
    assert all(placed.part.mark == "C12" for placed in reading.parts)


HEAD = on_leg("hole 18 gauge 50 at ").split("}")[0]
MEAN = {
    "brackets": HEAD + "(" * LENGTH,
    "closed brackets": HEAD + "(" * LENGTH + "1" + ")" * LENGTH,
    "digits": HEAD + "1" * LENGTH,
    "digits with points": HEAD + "1." * LENGTH,
    "feet": HEAD + "1'" * LENGTH,
    "fractions": HEAD + "1/2/" * LENGTH,
    "glyphs": HEAD + "\u00bd" * LENGTH,
    "quotes": '"' * LENGTH,
    "curly quotes": "\u201c" * LENGTH,
    "blanks": " " * LENGTH + "x",
    "blanks before a brace": 'part P "' + " " * LENGTH + "{",
    "blanks in a section": "units mm part P { section L90" + " " * LENGTH + "x90",
    "words in a section": "units mm part P { section " + "ab " * LENGTH,
    "near words in a section": "units mm part P { section L9 " + "lenght" * LENGTH,
    "a long sum": HEAD + "1" + " + 1" * (LENGTH // 4),
    "a long product": HEAD + "9" + " * 9999999" * (LENGTH // 10),
    "many denominators": HEAD + "1" + " / 3 + 1 / 7" * (LENGTH // 12),
    "minuses": HEAD + "-" * LENGTH,
    "glued minuses": HEAD + "1-" * (LENGTH // 2),
    "a long list": HEAD + ", ".join(str(n) for n in range(1, LENGTH // 6)),
    "commas": HEAD + "1" + ",1" * (LENGTH // 2),
    "parts in parts": "part P {" * (LENGTH // 8),
    "parts in parts by line": "part P {\n" * (LENGTH // 9),
    "legs in legs": "part P {" + " leg a {" * (LENGTH // 8),
    "closing braces": "}" * LENGTH,
    "closing braces by line": "}\n" * (LENGTH // 2),
    "opening braces": "{" * LENGTH,
    "unknown words by line": "foo\n" * (LENGTH // 4),
    "misspelt words by line": "lenght 3\n" * (LENGTH // 9),
    "signs by line": "$\n" * (LENGTH // 2),
    "a long word": "a" * LENGTH,
    "a long word of other letters": "part P { " + "\u00e9" * LENGTH,
    "comments": "#\n" * (LENGTH // 2),
    "lines": "\r" * LENGTH,
    "waivers": in_mm("waive x " * (LENGTH // 8)),
    "corners": on_leg("opening from 0,0" + " to 1,1" * LENGTH),
    "repeats": "units mm\n"
    + "part P { section L90x90x10 length 300 leg a { hole 9 gauge 50 at 1, 9999 @ 0.01 } }\n" * 200,
}


@pytest.mark.parametrize("text", MEAN.values(), ids=MEAN)
def test_mean_texts(text):
    begun = time.process_time()
    reading = read(text)
    assert time.process_time() - begun < MOST_SECONDS
    assert reading.findings or set(text) <= set("#\n\r")


def test_a_large_file_is_read_fast():
    lines = SAMPLE.splitlines()[2:16]
    texts = ["\n".join(lines).replace("C12", f"C{n}") for n in range(715)]
    text = "\n".join(["units inch", *texts])
    assert text.count("\n") > 10_000
    begun = time.process_time()
    reading = read(text)
    assert time.process_time() - begun < 3 * MOST_SECONDS
    assert len(reading.parts) == 715
    assert len({placed.part.mark for placed in reading.parts}) == 715


def test_every_line_of_a_text_is_read_carried_or_told():
    """Take one line out after the other: each makes a difference to the parts or the findings."""
    whole = read(SAMPLE)
    before = [placed.part for placed in whole.parts], [f.message for f in whole.findings]
    lines = SAMPLE.splitlines()
    for number in range(len(lines)):
        less = read("\n".join([*lines[:number], *lines[number + 1 :]]))
        after = [placed.part for placed in less.parts], [f.message for f in less.findings]
        assert after != before


def test_hostile_texts_are_printed_so_that_they_read_back():
    (placed,) = read(in_mm('remark "} part X { #"')).parts
    hostile = placed.part.model_copy(update={"mark": '}"{#=', "title": '""', "grade": "a b"})
    assert read(printed(hostile)).parts[0].part == hostile
