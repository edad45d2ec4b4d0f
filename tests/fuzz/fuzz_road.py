"""Fuzz the whole road: any reader, all rules, all machines of the samples, all outputs but PDF."""

from collections.abc import Callable

from fuzz_nc import WORDS as NC_WORDS
from fuzz_part_text import WORDS as TEXT_WORDS
from running import SAMPLES, run

KINDS = ("bmk", "json", "nc")
ENDINGS = ("*.bmk", "*.part.json", "*.nc1")


def prepare() -> Callable[[bytes], None]:
    """Return the function that examines one file and emits what came of it.

    The first byte of an input chooses the reader, the rest is the file.
    """
    from translator.conventions import Conventions
    from translator.emitters import EmitOptions, emitters
    from translator.machines import load_machine
    from translator.pipeline import Input, emit, examine
    from translator.readers import readers
    from translator.reports import ReportOptions, reports
    from translator.source import Source

    known = {reader.name: reader for reader in readers()}
    formats = [emitter for emitter in emitters() if "pdf" not in emitter.name]
    kinds = reports()
    lines = []
    for path in sorted(SAMPLES.rglob("*.machine.json")):
        machine, _ = load_machine(Source(path=path.name, data=path.read_bytes()))
        assert machine is not None
        lines.append(machine)
    conventions = Conventions(
        u_view_bottom="toe", y_datum="named-edge", arc_sign="plus-left", mitre_sign="plus-left"
    )

    def one(data: bytes) -> None:
        kind = KINDS[data[0] % len(KINDS)] if data else "bmk"
        source = Source(path=f"x.{kind}", data=data[1:])
        given = Input(source=source, reader=known[kind], conventions=conventions)
        outcome = examine([given], machines=lines)
        for placed in outcome.parts[:3]:
            emit(placed, "x", formats, EmitOptions(conventions=conventions))
        for report in kinds:
            report.render(outcome.verdict, ReportOptions())

    return one


if __name__ == "__main__":
    seeds = [
        bytes((number,)) + path.read_bytes()
        for number, ending in enumerate(ENDINGS)
        for path in sorted(SAMPLES.rglob(ending))
    ]
    run(prepare, seeds, (*NC_WORDS, *TEXT_WORDS))
