"""Small NC files built line by line, and a way to read them."""

from pathlib import Path

from translator.conventions import Conventions, settle
from translator.readers.nc import account, evidence, lower, parse
from translator.source import Source

FIXTURES = Path(__file__).with_name("nc")
EXAMPLES = {
    "angle-80": "example-1-angle-80.nc1",
    "angle-150x100": "example-2-angle-150x100.nc",
    "flat-120": "example-3-flat-120.nc1",
    "careless": "example-4-careless.nc",
}

FIELDS = {
    "order": "TQ-7",
    "drawing": "E-101",
    "phase": "1",
    "mark": "K1",
    "grade": "S275JR",
    "quantity": "2",
    "name": "L100*100*10",
    "code": "L",
    "length": "1000.00",
    "height": "100.00",
    "flange": "100.00",
    "flange_thickness": "10.00",
    "web_thickness": "10.00",
    "radius": "12.00",
    "mass": "15.000",
    "paint": "0.390",
    "web_start": "0.000",
    "web_end": "0.000",
    "flange_start": "0.000",
    "flange_end": "0.000",
}
FLAT = {
    "name": "FB100x10",
    "code": "B",
    "flange": "0.00",
    "flange_thickness": "0.00",
    "radius": "0.00",
    "mass": "7.850",
}
TEXTS = ("-", "-", "-", "-")


def example(name):
    return (FIXTURES / EXAMPLES[name]).read_bytes()


def lines(*rows, texts=TEXTS, comments=(), end="EN", **fields):
    """The lines of a file; the header is line 2 to 25 when there are no comments."""
    header = {**FIELDS, **fields}
    return [
        "ST",
        *comments,
        *(f"  {value}" for value in header.values()),
        *(f"  {text}" for text in texts),
        *rows,
        *([end] if end else []),
    ]


def nc(*rows, newline="\r\n", encoding="utf-8", **fields):
    """The bytes of a file with the default header, changed by ``fields``, and some rows."""
    text = "".join(line + newline for line in lines(*rows, **fields))
    return text.encode(encoding)


def flat(*rows, **fields):
    return nc(*rows, **{**FLAT, **fields})


def tree_of(data, name="K1.nc1"):
    return parse(Source(path=name, data=data))


def read(data, name="K1.nc1", **settings):
    """Read one file alone, its conventions settled from its own evidence."""
    tree = tree_of(data, name)
    record = evidence(tree)
    settled = settle(Conventions(**settings), [record])
    return lower(tree, settled.by_writer[record.writer])


def part_of(data, **settings):
    """The one part of a file that must be readable without errors."""
    reading = read(data, **settings)
    errors = [f.message for f in reading.findings if f.severity == "error"]
    assert not errors
    (placed,) = reading.parts
    return placed.part


def said(reading, rule=None, severity=None):
    """(rule, severity, line) of the findings, or the messages of one rule."""
    if rule is not None:
        return [f.message for f in reading.findings if f.rule == rule]
    return sorted(
        (f.rule, str(f.severity), f.span.line)
        for f in reading.findings
        if severity is None or f.severity == severity
    )


def fates(data, **settings):
    return account(tree_of(data), Conventions(**settings))


def places(part, leg):
    """(kind, x, y from the heel) of the features on a leg that have a place."""
    features = getattr(part.legs, leg).features
    return [
        (f.kind, f.x_mm, f.from_heel_mm if f.kind == "stamp" else f.y_mm)
        for f in features
        if f.kind not in ("opening", "scribe")
    ]
