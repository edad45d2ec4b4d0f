"""Fuzz the reader of part text (.bmk): parse, lower, and the layout anew that `format` writes."""

from collections.abc import Callable

from running import SAMPLES, held, run

WORDS = (
    *(
        "units inch\n",
        "units mm\n",
        "part P {",
        "}",
        "{",
        "section L4x3-1/2x3/8",
        "section FB4x3/8",
    ),
    *(
        "length 11-1/2",
        "quantity 2",
        "leg a {",
        "leg b {",
        "face {",
        "holes 13/16 gauge 2 at 1, 3 @ 3",
    ),
    *("slots 13/16 x 1 across leg", "spaces 1, 3 @ 3 = 9, 1 to end", "stamp mark at 5 from heel 1"),
    *(
        "mitre far 15deg from square, long at toe of leg a",
        "cope start toe 2 long x 1 deep radius 1",
    ),
    *("waive edge-distance-short on leg a hole 3 at 15/16", "family f(n, m = 3) {", "= f(n = 5) {"),
    *("opposite P", 'use "x.bmk"', "9'-4 1/2\"", "15deg", "1000000000", "bolt 3/4", "both legs {"),
    *("rows", "grade A36", 'remark "', "#", "(", ")", "*", " - ", "\x00", "\u00bd", "\u201d"),
)


def prepare() -> Callable[[bytes], None]:
    """Return the function that takes one input down the whole reading road, and lays it out."""
    from translator.conventions import Conventions
    from translator.editor.tidy import tidied
    from translator.readers.part_text import READER
    from translator.source import Source
    from translator.syntax.language import language

    language()

    def one(data: bytes) -> None:
        library = {"x.bmk": data}  # whoever uses it uses himself
        tree = READER.parse(Source(path="p.bmk", data=data, library=library))
        reading = READER.lower(tree, Conventions())
        is_library = tree.root.node("family") is not None
        held(said=reading.findings, parts=reading.parts, why="a library" if is_library else "")
        tidied(Source(path="p.bmk", data=data))

    return one


if __name__ == "__main__":
    run(prepare, [path.read_bytes() for path in sorted(SAMPLES.rglob("*.bmk"))], WORDS)
