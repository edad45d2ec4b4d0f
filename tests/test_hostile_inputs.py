"""Any bytes, and sound files that transfers and editors spoilt: findings, no exception, no wait.

One table of all readers of what comes from outside; the formats of part files are found by
walking. What searches for branches that these do not reach is ``tests/fuzz``, run by hand.
"""

import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from translator.bars.plan_load import load_plan
from translator.bars.stock import read_stock
from translator.batch.bill import read_bill
from translator.batch.configuration import understood
from translator.batch.waivers_file import understand
from translator.commands import main
from translator.conventions import Conventions
from translator.findings import Finding
from translator.machines import load_machine
from translator.readers import readers
from translator.release.holds import read_holds
from translator.release.load import load_manifest
from translator.source import Source

SAMPLES = Path(__file__).parent.parent / "samples"
SLOWEST_S = 2.0
"""CPU time that no input of a sample's size may take; half of that on a machine of its own."""

SETTINGS = b"""
fail_on = "warning"
out = "made"
excludes = ["old/*"]
practice = "us"
[gauges]
"4in" = ["2-1/2in"]
[nc]
u_view_bottom = "toe"
[limits]
edge-distance-short = "1.5 d"
[severities]
hole-in-fillet = "off"
[stock]
A36 = "3/4in"
"""
WAIVERS = b"""
[[waiver]]
rule = "edge-distance-short"
mark = "C12"
leg = "a"
feature = "a3"
value = "15/16in"
reason = "RFI 17"
by = "QA"
until_date = "2027-01-31"
[[substitution]]
mark = "C12"
field = "grade"
from = "A36"
to = "A572-50"
reason = "what the yard holds"
"""
HOLDS = b'[[hold]]\nmark = "C12"\nreason = "awaits RFI 17"\n'
STOCK = b"""section,grade,length,count,remnant,heat
L4x3-1/2x3/8,A36,20',12,,H1
FB4x3/8,A36,7'-3 1/2",1,R-19,H88
"""


def _samples(*patterns):
    found = [path for pattern in patterns for path in sorted(SAMPLES.rglob(pattern))]
    assert found
    return [path.read_bytes() for path in found]


def _part_reader(reader):
    def read(data):
        tree = reader.parse(Source(path="x", data=data))
        reader.evidence(tree)
        reading = reader.lower(tree, Conventions())
        return reading.findings

    return read


def _plan(folder):
    """Make a cutting plan and return its document."""
    part = str(SAMPLES / "tern-quay" / "clips.bmk")
    line = str(SAMPLES / "machines" / "punch-and-drill-line.machine.json")
    given = ["--machine", line, "--standard", "20'", "--out", str(folder / "bars")]
    done = CliRunner().invoke(main, ["plan", part, *given])
    assert done.exit_code in (0, 1), done.output
    return (folder / "bars" / "plan.json").read_bytes()


def _manifest(folder):
    """Make a release and return its manifest."""
    out = folder / "frozen"
    part = str(SAMPLES / "tern-quay" / "stair" / "S61.part.json")
    done = CliRunner().invoke(main, ["release", part, "--to", str(out), "--by", "QA"])
    assert done.exit_code == 0, done.output
    return (out / "release.json").read_bytes()


PATTERNS = {"bmk": "*.bmk", "json": "*.part.json", "nc": "*.nc1"}
READERS = {
    **{r.name: (_part_reader(r), _samples(PATTERNS[r.name])) for r in readers()},
    "settings": (
        lambda data: understood(Path("backmark.toml"), data).findings,
        [SETTINGS, *_samples("*.toml")],
    ),
    "waivers": (lambda data: understand("waivers.toml", data)[1], [WAIVERS]),
    "holds": (lambda data: read_holds("holds.toml", data)[1], [HOLDS]),
    "machine": (
        lambda data: load_machine(Source(path="m.machine.json", data=data))[1],
        _samples("*.machine.json"),
    ),
    "bill": (lambda data: read_bill(Source(path="b.csv", data=data)).findings, _samples("*.csv")),
    "stock": (lambda data: read_stock(Source(path="s.csv", data=data)).findings, [STOCK]),
    "manifest": (lambda data: load_manifest(Source(path="release.json", data=data))[1], _manifest),
    "plan": (lambda data: load_plan(Source(path="plan.json", data=data))[1], _plan),
}
"""Name -> what reads such bytes, and sound samples of them or what makes one."""

MANY = settings(
    max_examples=120,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
PIECES = (
    *(b"{", b"}", b"[", b"]", b'"', b"'", b",", b";", b"=", b"#", b"\n", b"\r", b"\t", b" ", b"-"),
    *(b"0", b"1e999", b"9" * 30, b"\0", b"\x1a", b"\xff", b"\xef\xbb\xbf", b"\xff\xfe", b"\xc3"),
    *(b"null", b"nan", b"true", b"\xe2\x80\xae", b"\\u0000", b'"""', b"[[", b"{" * 40, b"=1+1"),
)


@st.composite
def spoilt(draw, samples):
    """Change a few places of a sound file."""
    data = bytearray(draw(st.sampled_from(samples)))
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(data)))
        end = min(len(data), at + draw(st.integers(0, 40)))
        piece = draw(st.one_of(st.sampled_from(PIECES), st.binary(max_size=6)))
        match draw(st.integers(0, 4)):
            case 0:
                data[at:end] = b""
            case 1:
                data[at:end] = data[at:end] * 2
            case 2:
                data[at:end] = piece
            case 3:
                data[at:at] = piece
            case _:
                del data[at:]
    return bytes(data)


def held(name, data):
    """Read some bytes and hold what must be so of any."""
    read, _ = READERS[name]
    begun = time.process_time()
    findings = read(data)
    assert time.process_time() - begun < SLOWEST_S, data
    assert all(isinstance(finding, Finding) and finding.message for finding in findings)
    assert all(finding.span.line >= 1 and finding.span.column >= 1 for finding in findings)
    return findings


@pytest.mark.parametrize("name", READERS)
def test_any_bytes_are_survived(name):
    held(name, b"")

    @MANY
    @given(st.binary(max_size=300))
    def run(data):
        held(name, data)

    run()


@pytest.mark.parametrize("name", READERS)
def test_spoilt_samples_are_survived(tmp_path, name):
    _, samples = READERS[name]
    own = [samples(tmp_path)] if callable(samples) else samples
    for sample in own:
        held(name, sample)

    @MANY
    @given(spoilt(own))
    def run(data):
        held(name, data)

    run()


def test_the_samples_themselves_are_sound(tmp_path):
    """Spoilt files of files that are no good anyway would prove little."""
    for name in ("settings", "waivers", "holds", "machine", "stock"):
        _, samples = READERS[name]
        errors = [f.message for f in held(name, samples[0]) if f.severity == "error"]
        assert errors == []
    assert held("manifest", _manifest(tmp_path)) == ()
    assert held("plan", _plan(tmp_path)) == ()
