"""Read and print part text in tests."""

from translator.conventions import Conventions
from translator.emitters import EmitOptions
from translator.emitters.part_text import EMITTER
from translator.findings import in_order
from translator.readers.part_text import READER
from translator.source import Source

NAME = "shop/x.bmk"


def read(text):
    """Read text or bytes as one file."""
    data = text if isinstance(text, bytes) else text.encode()
    return READER.lower(READER.parse(Source(path=NAME, data=data)), Conventions())


def part(text):
    """Return the one part of a text that gives nothing above a note."""
    reading = read(text)
    assert [f for f in reading.findings if f.severity != "note"] == []
    (placed,) = reading.parts
    return placed.part


def told(text):
    """Return the findings of a text, each as "line:column rule: message"."""
    return [
        f"{f.span.line}:{f.span.column} {f.rule}: {f.message}"
        for f in in_order(read(text).findings)
    ]


def printed(piece):
    """Return the canonical text of a part."""
    return EMITTER.emit(piece, EmitOptions()).decode()


def in_mm(rest, section="L100x100x10", length="300"):
    """Return a metric part that holds some statements."""
    return f"units mm\npart P1 {{\n section {section}\n length {length}\n {rest}\n}}\n"


def in_inches(rest):
    """Return a part in inches that holds some statements."""
    return f"units inch\npart P1 {{\n section L4x4x3/8\n length 12\n {rest}\n}}\n"


def on_leg(rest):
    """Return a metric angle with some statements on leg a."""
    return in_mm(f"leg a {{ {rest} }}")


def on_face(rest):
    """Return a metric flat with some statements on its face."""
    return in_mm(f"face {{ {rest} }}", section="FB100x10")


def on_inch_leg(rest):
    """Return an angle in inches with some statements on leg a."""
    return in_inches(f"leg a {{ {rest} }}")
