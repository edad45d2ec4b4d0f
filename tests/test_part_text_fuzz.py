"""The reading of part text under 2,000 random sequences and 2,000 mutated samples.

The long run (100,000 and 20,000) is ``tests/benchmarks/part_text_fuzz.py``, by hand.
"""

import importlib.util
from pathlib import Path

import pytest

PATH = Path(__file__).parent / "benchmarks" / "part_text_fuzz.py"
SPEC = importlib.util.spec_from_file_location("part_text_fuzz", PATH)
assert SPEC is not None
assert SPEC.loader is not None
FUZZ = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(FUZZ)


@pytest.mark.parametrize("kind", [FUZZ.sequences, FUZZ.mutations], ids=lambda f: f.__name__)
def test_no_exception_and_no_second(kind):
    assert 0.0 < FUZZ.slowest(kind(2000, seed=17)) < 1.0


def test_the_mutations_are_not_all_broken_and_not_all_sound():
    texts = list(FUZZ.mutations(50))
    readings = [
        FUZZ.READER.lower(
            FUZZ.READER.parse(FUZZ.Source(path="x.bmk", data=text.encode())), FUZZ.Conventions()
        )
        for text in texts
    ]
    assert any(reading.parts for reading in readings)
    assert any(f.severity == "error" for reading in readings for f in reading.findings)
