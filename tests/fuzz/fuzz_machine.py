"""Fuzz the reader of machine profiles (.machine.json)."""

from collections.abc import Callable

from fuzz_part_json import words_of
from running import SAMPLES, held, run


def prepare() -> Callable[[bytes], None]:
    """Return the function that reads one profile."""
    from translator.machines import load_machine
    from translator.source import Source

    def one(data: bytes) -> None:
        machine, findings = load_machine(Source(path="x.machine.json", data=data))
        held(said=findings, parts=() if machine is None else (machine,))

    return one


if __name__ == "__main__":
    profiles = sorted(SAMPLES.rglob("*.machine.json"))
    run(prepare, [path.read_bytes() for path in profiles], words_of(profiles))
