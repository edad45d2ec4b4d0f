"""Figures that look off by 25.4: what is impossible as typed and sensible in the other unit."""

import pytest
from bmk_reading import in_inches, in_mm, on_inch_leg, on_leg, told

DOUBTFUL = {
    "millimetres for inches, hole": (
        on_inch_leg("holes 18 gauge 2 at 2, 6"),
        ["5:30 unit-doubtful: 18 in. is a very large diameter for this part: did you mean 18 mm?"],
    ),
    "millimetres for inches, gauge": (
        on_inch_leg("holes 13/16 gauge 55 at 2, 6"),
        ["5:34 unit-doubtful: 55 in. is a very large gauge for this part: did you mean 55 mm?"],
    ),
    "millimetres for inches, place": (
        on_inch_leg("holes 13/16 gauge 2 at 40"),
        ["5:33 unit-doubtful: 40 in. is a very large position for this part: did you mean 40 mm?"],
    ),
    "millimetres for inches, length": (
        in_inches("").replace("length 12", "length 1200"),
        ["4:2 unit-doubtful: 1200 in. is a very large length for this part: did you mean 1200 mm?"],
    ),
    "inches for millimetres, hole": (
        on_leg("holes 0.8125 gauge 50 at 40"),
        [
            (
                "5:35 unit-doubtful: 0.8125 mm is a very small diameter for this part: did you mean"
                " 0.8125 in.?"
            )
        ],
    ),
    "inches for millimetres, length": (
        in_mm("", length="11.5"),
        ["4:2 unit-doubtful: 11.5 mm is a very small length for this part: did you mean 11.5 in.?"],
    ),
}
FINE = {
    "a large hole": on_inch_leg("holes 3-1/2 gauge 2 at 4"),
    "a pilot hole": on_leg("hole 3 gauge 50 at 40"),
    "a long piece": in_inches("").replace("length 12", "length 60'"),
    "a short piece": in_mm("", length="25"),
    "a hole far past the end": on_inch_leg("holes 13/16 gauge 2 at 400"),
}


@pytest.mark.parametrize(("text", "expected"), DOUBTFUL.values(), ids=DOUBTFUL)
def test_doubtful(text, expected):
    assert told(text) == expected


@pytest.mark.parametrize("text", FINE.values(), ids=FINE)
def test_fine(text):
    assert [line for line in told(text) if "unit-doubtful" in line] == []
