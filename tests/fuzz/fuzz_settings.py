"""Fuzz the readers of the settings file (backmark.toml) and of the waivers beside parts."""

from collections.abc import Callable
from pathlib import Path

from running import SAMPLES, run

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
WORDS = (
    *(
        "[[waiver]]",
        "[[substitution]]",
        "[nc]",
        "[limits]",
        "[severities]",
        "[stock]",
        "[tolerances]",
    ),
    *("fail_on", "excludes", "machines", "practice", "edition", "execution_class", "punching"),
    *("contact", "gauges", "rule", "mark", "on", "at", "reason", "by", "until", "grade", "use"),
    *(
        '"""',
        "'''",
        "= ",
        "{",
        "}",
        "1979-05-27T07:32:00Z",
        "nan",
        "inf",
        "0x",
        "[[",
        "]]",
        "\\u0000",
    ),
    *('"auto"', '"us"', '"eu"', '"off"', '"error"', "hole-in-fillet", "edge-distance-short"),
)


def prepare() -> Callable[[bytes], None]:
    """Return the function that reads the same bytes as both files."""
    from translator.batch.configuration import understood
    from translator.batch.waivers_file import understand

    def one(data: bytes) -> None:
        understood(Path("backmark.toml"), data)
        understand("waivers.toml", data)

    return one


if __name__ == "__main__":
    files = sorted(SAMPLES.rglob("*.toml"))
    run(prepare, [SETTINGS, WAIVERS, *(path.read_bytes() for path in files)], WORDS)
