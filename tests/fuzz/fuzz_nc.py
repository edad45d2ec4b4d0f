"""Fuzz the reader of detailer files (.nc1): parse, evidence, settle, lower, account."""

from collections.abc import Callable

from running import SAMPLES, held, run

TESTED = SAMPLES.parent / "tests" / "nc"
WORDS = (
    *("ST", "EN", "BO", "AK", "IK", "SI", "PU", "KO", "SC", "TO", "KA", "UE", "**", "\r\n"),
    *("v", "u", "h", "o", "s", "l", "m", "g", "t", "L", "B", "0.00", "-45.000", "1e9", "99999999"),
)


def prepare() -> Callable[[bytes], None]:
    """Return the function that takes one input down the whole reading road."""
    from translator.conventions import Conventions, settle
    from translator.readers.nc import READER, account
    from translator.source import Source

    decided = Conventions(
        u_view_bottom="toe",
        y_datum="named-edge",
        h_view="rolled",
        arc_sign="plus-left",
        mitre_sign="plus-left",
        flange_cut_view="u",
        nominal_inch="yes",
    )

    def one(data: bytes) -> None:
        tree = READER.parse(Source(path="x.nc1", data=data))
        evidence = READER.evidence(tree)
        assert evidence is not None
        settled = settle(Conventions(), [evidence]).by_writer[evidence.writer]
        for conventions in (settled, decided):
            reading = READER.lower(tree, conventions)
            held(said=reading.findings, parts=reading.parts, why=reading.not_ours)
        account(tree, decided)

    return one


if __name__ == "__main__":
    files = [*sorted(SAMPLES.rglob("*.nc1")), *sorted(TESTED.glob("*.nc*"))]
    run(prepare, [path.read_bytes() for path in files], WORDS)
