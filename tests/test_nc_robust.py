"""Any bytes: findings, never a traceback, never long; and every line is accounted for."""

import random
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from nc_files import EXAMPLES, example, fates, flat, nc, read, tree_of

from translator.conventions import Conventions
from translator.readers import readers
from translator.readers.nc import READER, account, evidence, lower, parse
from translator.source import Source

SETTLED = Conventions(
    u_view_bottom="toe",
    y_datum="named-edge",
    h_view="rolled",
    arc_sign="plus-left",
    mitre_sign="plus-left",
    flange_cut_view="u",
)
SNIPPETS = (
    b"\r\n", b"\n", b"\r", b" ", b"  ", b"\t", b"**", b"****", b"0.00", b",", b".", b"-", b"u",
    b"o", b"s", b"v", b"h", b"l", b"m", b"g", b"t", b"BO\r\n", b"AK\r\n", b"IK\r\n",
    b"SI\r\n", b"EN\r\n", b"ST\r\n", b"KO\r\n", b"PU\r\n", b"SC\r\n", b"XX\r\n", b"1e9", b"\xff",
    b"\0", b"\x1a", b"\xc3\xa4", b"-0.00", b"99999999", b"B", b"L", b"  v 1.00u 2.00 3.00\r\n",
)  # fmt: skip


def seconds(call, *args):
    start = time.process_time()
    call(*args)
    return time.process_time() - start


def whole(data, conventions=SETTLED):
    """All three steps and the account, as the road runs them."""
    tree = parse(Source(path="x.nc", data=data))
    record = evidence(tree)
    reading = lower(tree, conventions)
    return tree, record, reading, account(tree, conventions)


def check(data, conventions=SETTLED):
    """What must hold of any bytes."""
    tree, _, reading, found = whole(data, conventions)
    written = {line.number for line in tree.lines if line.text.strip()}
    assert written <= set(found)
    if not reading.parts:
        is_told = any(f.severity == "error" for f in reading.findings) or reading.not_ours
        assert is_told
        return
    assert all(isinstance(f.message, str) and f.message for f in reading.findings)
    told = {f.span.line for f in reading.findings}
    told |= {r.span.line for f in reading.findings for r in f.related}
    failed = {f.span.line for f in reading.findings if f.severity == "error"}
    for sheet in tree.sheets:
        span = range(sheet.start, sheet.end + 1)
        if failed & set(span):
            told |= set(span)  # a part that was refused is named as a whole
    for line in (n for n, fate in found.items() if fate == "reported"):
        assert line in told
    # The account itself is proved: a carried line is in a part, word for word.
    carried = "\n".join(text for placed in reading.parts for text in placed.part.carried)
    lines = {line.number: line.text for line in tree.lines}
    for number, fate in found.items():
        if fate == "carried":
            assert lines[number].replace("\t", " ").strip() in carried


def mutated(data, chance):
    data = bytearray(data)
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(data) + 1)
        kind = chance.randrange(4)
        if kind == 0:
            data[at:at] = chance.choice(SNIPPETS)
        elif kind == 1:
            del data[at : at + chance.randint(1, 12)]
        elif kind == 2 and at < len(data):
            data[at] = chance.randrange(256)
        else:
            rows = bytes(data).split(b"\n")
            first, second = chance.randrange(len(rows)), chance.randrange(len(rows))
            rows[first], rows[second] = rows[second], rows[first]
            data = bytearray(b"\n".join(rows))
    return bytes(data)


@pytest.mark.parametrize("name", EXAMPLES)
def test_mutated_examples(name):
    chance = random.Random(name)
    for _ in range(40):
        check(mutated(example(name), chance))


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.binary(max_size=400))
def test_random_bytes(data):
    check(data)


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.lists(st.sampled_from(SNIPPETS), max_size=40), st.booleans())
def test_random_rows(snippets, is_flat):
    build = flat if is_flat else nc
    head = build(end="")
    check(head + b"BO\r\n" + b"".join(snippets))
    check(head + b"".join(snippets) + b"\r\nEN\r\n", Conventions())


def test_a_translated_line_matters():
    """Change each data line of a part that is read whole: the part or the findings change."""
    data = example("angle-150x100")
    rows = data.split(b"\n")
    before = lower(tree_of(data), SETTLED)
    changed = 0
    for number, fate in account(tree_of(data), SETTLED).items():
        row = rows[number - 1]
        if fate != "translated" or not any(48 <= c < 58 for c in row):
            continue
        other = bytes(48 + (c - 43) % 10 if 48 <= c < 58 else c for c in row)
        fresh = b"\n".join([*rows[: number - 1], other, *rows[number:]])
        assert lower(tree_of(fresh), SETTLED) != before
        changed += 1
    assert changed > 30


LIMITS = {
    "bytes": (b"x" * 600_000, "nc-too-big"),
    "lines": (b"\n" * 20_000 + b"x", "nc-too-big"),
    "parts": (nc() * 101, "nc-too-big"),
    "rows": (nc("BO", *["  v 1.00u 2.00 3.00 0.00"] * 1001), "nc-too-big"),
}


@pytest.mark.parametrize("case", LIMITS)
def test_limits(case):
    data, rule = LIMITS[case]
    reading = read(data)
    assert reading.parts == ()
    assert [f.rule for f in reading.findings if f.severity == "error"] == [rule]


def spiral(count):
    """A contour of many corners that neither crosses itself nor repeats."""
    top = [f"  {1000 - i / 2:.2f}u {50 + (i % 2) * 40:.2f} 0.00" for i in range(count)]
    return ("AK", "  v 0.00u 0.00 0.00", "  1000.00u 0.00 0.00", *top, "  0.00u 0.00 0.00")


HOSTILE = {
    "holes on one spot": nc("BO", *[f"  u 9.00o 9.00 {2 + i / 100:.2f} 0.00" for i in range(990)]),
    "holes everywhere": nc(
        "BO", *[f"  {'vuh'[i % 3]} {i}.00{'uos'[i % 3]} {i % 90}.00 3.00 0.00" for i in range(990)]
    ),
    "sinks on one spot": nc("BO", *["  v 9.00u 9.00 3.00s 0.00"] * 990),
    "slots": nc("BO", *[f"  u {i}.00s {i % 9}.00 3.00 0.00l 9 9 {i}" for i in range(990)]),
    "a long contour": flat(*spiral(960)),
    "many small contours": flat(
        *(
            row.format(i)
            for i in range(240)
            for row in ("IK", "  v {}.00s 1 2", "  {}.50 2 2", "  {}.90 1 2", "  {}.00 1 2")
        )
    ),
    "unknown blocks": nc(*[f"{chr(65 + i % 26)}Q" for i in range(9000)]),
    "one long line": nc("BO", "  v " + "1.00u " * 80_000),
    "one long number": nc("BO", "  v " + "1" * 400_000),
    "stars": nc("BO", "  v " + "*" * 400_000),
    "commas": nc("BO", "  v " + "1," * 200_000),
    "signs": nc("BO", "  v " + "-1" * 200_000),
    "stamps": nc("SI", *[f"  u {i}.00o 5.00 {i}.00 10rAB" for i in range(990)]),
    "comments": nc(*["** " + "c" * 40] * 9000),
    "texts": nc(texts=["word"] * 9000),
    "empty headers": b"ST\n" * 9000,
    "header digits": b"ST\n" + b"1\n" * 9000,
    "profile codes": b"ST\n" + b"L\n" * 9000,
    "every line odd": nc("BO", *[f"  v {i}.00 2,5 3.001 0" for i in range(990)]),
}  # fmt: skip


@pytest.mark.parametrize("case", HOSTILE, ids=lambda name: name.replace(" ", "-"))
def test_hostile_files_take_less_than_a_second(case):
    data = HOSTILE[case]
    spent = seconds(whole, data, Conventions())
    # ``whole`` lowers twice (once for the account), so this is above what the road needs.
    assert spent < 2.0


def test_the_reader_is_found_by_walking_the_room():
    assert READER in readers()
    assert [READER.name, READER.pattern] == ["nc", r".*\.nc\d?"]


@pytest.mark.parametrize("conventions", [Conventions(), SETTLED], ids=["auto", "settled"])
def test_reading_twice_gives_the_same(conventions):
    for name in EXAMPLES:
        assert whole(example(name), conventions)[1:] == whole(example(name), conventions)[1:]


def test_account_of_a_file_that_is_not_ours():
    assert set(fates(nc(code="U", name="U100")).values()) == {"reported"}
