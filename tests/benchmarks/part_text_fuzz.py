"""Random word sequences and mutated samples for the part-text reader, counted and timed.

By hand: ``python tests/benchmarks/part_text_fuzz.py 100000 20000`` (sequences, mutations);
the test suite takes 2,000 of each. Any exception stops the run; the slowest reading and the
growth of memory are printed.
"""

import random
import resource
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from translator.conventions import Conventions
from translator.readers import readers
from translator.source import Source
from translator.syntax.language import language

SAMPLES = Path(__file__).parent.parent.parent / "samples"
OTHERS = (
    *("3", "1/2", "9'-4 1/2\"", "15deg", '"x"', '"', "#", "\n", "$", "0.5", "1000000000", "\x00"),
    *("L4x3-1/2x3/8", "P1", "a1", "{", "}", "part P { section L3x3x1/4 length 5", "\u00d8"),
)
READER = next(reader for reader in readers() if reader.name == "bmk")


def sequences(count: int, seed: int = 3) -> Iterator[str]:
    """Yield texts of up to 150 words of the language in any order."""
    dice = random.Random(seed)
    words = [*sorted(language().words), *sorted(language().symbols), *OTHERS]
    for _ in range(count):
        yield " ".join(dice.choices(words, k=dice.randrange(150)))


def mutations(count: int, seed: int = 5) -> Iterator[str]:
    """Yield samples with a few places cut, doubled, moved or overwritten."""
    dice = random.Random(seed)
    sound = [path.read_text("utf-8") for path in sorted(SAMPLES.rglob("*.bmk"))]
    words = [*sorted(language().words), *OTHERS]
    for _ in range(count):
        text = dice.choice(sound)
        for _ in range(dice.randrange(1, 8)):
            at = dice.randrange(len(text) + 1)
            end = at + dice.randrange(1, 30)
            text = dice.choice(
                (
                    text[:at] + text[end:],
                    text[:at] + dice.choice(words) + text[at:],
                    text[:at] + chr(dice.randrange(256)) + text[at + 1 :],
                    text[:at] + text[dice.randrange(len(text) + 1) :][:60] + text[at:],
                )
            )
        yield text


def slowest(texts: Iterator[str]) -> float:
    """Read each text; return the most CPU seconds that one took."""
    most = 0.0
    for text in texts:
        begun = time.process_time()
        source = Source(path="fuzz.bmk", data=text.encode("utf-8", "surrogatepass"))
        READER.lower(READER.parse(source), Conventions())
        most = max(most, time.process_time() - begun)
    return most


def megabytes() -> float:
    """Return the largest memory the process has held."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main(counts: list[str]) -> None:
    """Run both kinds and print what they took."""
    words, changed = (int(count) for count in counts)
    slowest(sequences(500))
    slowest(mutations(500))
    before = megabytes()
    lines = (
        f"{words} sequences: slowest {slowest(sequences(words)):.3f} s of CPU",
        f"{changed} mutations: slowest {slowest(mutations(changed)):.3f} s of CPU",
        f"memory: {before:.0f} MB after 1,000 readings, {megabytes():.0f} MB at the end",
    )
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main(sys.argv[1:])
