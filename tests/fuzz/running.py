"""What all harnesses of this folder share: how one is run, and what counts as a fault.

A harness is run by hand, for instance ``python tests/fuzz/fuzz_nc.py --minutes 30 --keep /tmp/nc``.
It needs the package atheris (coverage-guided fuzzing) beside what the tests need. A fault does
not stop it: each one that is new is written into the folder named, with its traceback.
"""

import argparse
import hashlib
import importlib
import pkgutil
import sys
import time
import traceback
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

SAMPLES = Path(__file__).parent.parent.parent / "samples"
LONGEST = 6000
"""Bytes of one input; the samples stay below."""
SLOWEST_S = 3.0
"""CPU time that one input may take; code that counts its branches runs about three times slower."""
ROOMS = (
    *("source", "findings", "errors", "documents", "lengths", "model", "tables", "geometry"),
    *(
        "conventions",
        "syntax",
        "machines",
        "readers",
        "rules",
        "emitters",
        "batch",
        "pipeline",
        "editor.tidy",
        "bars.stock",
    ),
)


@dataclass
class Record:
    """What a run has seen."""

    keep: Path
    inputs: int = 0
    slowest: float = 0.0
    faults: set[str] = field(default_factory=set)

    def fault(self, data: bytes, what: str, text: str) -> None:
        """Keep the first input of each kind of fault."""
        key = hashlib.sha256(what.encode()).hexdigest()[:12]
        if key in self.faults:
            return
        self.faults.add(key)
        (self.keep / f"fault-{key}.bin").write_bytes(data)
        (self.keep / f"fault-{key}.txt").write_text(f"{what}\n\n{text}", encoding="utf-8")
        sys.stdout.write(f"FAULT {key}: {what}\n")
        sys.stdout.flush()


def watched(one: Callable[[bytes], None], record: Record) -> Callable[[bytes], None]:
    """Return a function that tries one input and keeps what goes wrong."""

    def tried(data: bytes) -> None:
        record.inputs += 1
        begun = time.process_time()
        try:
            one(data)
        except Exception as error:  # noqa: BLE001 - every exception is what is looked for
            frame = traceback.extract_tb(error.__traceback__)[-1]
            what = f"{type(error).__name__} in {Path(frame.filename).name}:{frame.lineno}"
            record.fault(data, what, traceback.format_exc())
        took = time.process_time() - begun
        if took > record.slowest:
            record.slowest = took
            (record.keep / "slowest.bin").write_bytes(data)
            (record.keep / "slowest.txt").write_text(f"{took:.3f} s of CPU\n", encoding="ascii")
        if took > SLOWEST_S:
            record.fault(data, f"slow by {int(took)} s", f"{took:.2f} s of CPU\n")

    return tried


def load_all() -> None:
    """Import the rooms under test, so that their branches are counted from the start."""
    for name in ROOMS:
        module = importlib.import_module(f"translator.{name}")
        for info in pkgutil.walk_packages(getattr(module, "__path__", ()), f"{module.__name__}."):
            if "_make_template" not in info.name and "sheet_pdf" not in info.name:
                importlib.import_module(info.name)


def run(
    prepare: Callable[[], Callable[[bytes], None]], seeds: Iterable[bytes], words: Iterable[str]
) -> None:
    """Run a harness for some minutes and print what it did.

    Args:
        prepare: called once all is loaded; returns the function that takes one input.
        seeds: sound inputs to begin with.
        words: what the language of the inputs is made of.
    """
    import atheris

    options = argparse.ArgumentParser()
    options.add_argument("--minutes", type=float, default=30)
    options.add_argument("--keep", type=Path, required=True)
    chosen = options.parse_args()
    corpus = chosen.keep / "corpus"
    corpus.mkdir(parents=True, exist_ok=True)
    for seed in seeds:
        (corpus / hashlib.sha256(seed).hexdigest()[:16]).write_bytes(seed)
    dictionary = chosen.keep / "words.dict"
    dictionary.write_text("".join(f'"{_escaped(word)}"\n' for word in words), encoding="ascii")
    with atheris.instrument_imports(include=["translator"]):
        load_all()
    record = Record(keep=chosen.keep)
    atheris.Setup(
        [
            sys.argv[0],
            str(corpus),
            f"-dict={dictionary}",
            f"-max_len={LONGEST}",
            f"-max_total_time={int(chosen.minutes * 60)}",
            "-timeout=120",
            "-rss_limit_mb=2500",
            "-verbosity=1",
            f"-artifact_prefix={chosen.keep}/",
        ],
        watched(prepare(), record),
    )
    atheris.Fuzz()


def _escaped(word: str) -> str:
    return "".join(
        chr(b) if 0x20 < b < 0x7F and chr(b) not in '"\\' else f"\\x{b:02x}" for b in word.encode()
    )


def held(*, said: Iterable[object], parts: Iterable[object] = (), why: str = "") -> None:
    """Stop at a reading that says nothing at all: a part was dropped without a word."""
    if not (tuple(said) or tuple(parts) or why):
        raise AssertionError("no part and no word")
