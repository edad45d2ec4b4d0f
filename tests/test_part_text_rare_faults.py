"""Broken part text, second table: faults that few people make, and mean ones."""

import pytest
from bmk_reading import in_mm, on_face, on_leg, read, told

FAULTS = {
    # what is wrong: (text, all findings)
    "long section": (
        in_mm("", section="L90" + " ab" * 100),
        [
            (
                "3:10 section-unknown: L90 ab ab ab ab ab ab ab ab ab ab ab ab ... is no "
                "section: it has more than 120 signs."
            ),
        ],
    ),
    "words behind a fault": (
        in_mm("quantity 3 x4 5 remark done"),
        [
            (
                "5:13 syntax: `x` has no meaning here: the statement that begins with "
                "`quantity` was complete before it."
            ),
        ],
    ),
    "statement behind a fault": (
        on_leg("cope start toe 20 long x 10 deap radios 5 hole 9 at 40"),
        [
            "5:38 syntax: `deap` is no word known here: did you mean `deep`?",
            "5:43 syntax: `radios` is no word known here: did you mean `radius`?",
            ("5:52 syntax: These holes have no gauge: say how far from the heel, as `gauge 50`."),
        ],
    ),
    "words between mark and brace": (
        "units mm part P1 of two { section L100x100x10 }",
        [
            "1:10 length-missing: This part has no length: write `length 11-1/2`.",
            (
                "1:18 syntax: `of` has no meaning after the mark `P1`: a mark with "
                "blanks or signs in it is put in quotes."
            ),
        ],
    ),
    "mark without a brace": (
        "units mm\npart P1 of two\nsection L100x100x10",
        [
            (
                "2:9 syntax: `of` has no meaning after the mark `P1`: a mark with blanks "
                "or signs in it is put in quotes."
            ),
            "3:1 syntax: `section` belongs in a part, outside the braces of a leg or face.",
        ],
    ),
    "head of a leg without a brace": (
        in_mm("leg c\n quantity 3 leg d }"),
        [
            "5:6 syntax: `a` or `b` is needed after `leg`, not `c`.",
            "6:17 syntax: `a` or `b` is needed after `leg`, not `d`.",
            "7:1 syntax: This `}` closes nothing: no `{` is open here.",
        ],
    ),
    "fault that runs over lines": (
        on_leg("hole 9 gauge 50 at $ 40,\n 50, 60\n at 3"),
        [
            "5:29 syntax: The character `$` has no meaning here.",
        ],
    ),
    "file ends in a sum": (
        "units mm part P1 { length 3 +",
        [
            "1:10 section-missing: This part has no section: write `section L4x3-1/2x3/8`.",
            (
                "1:30 syntax: A `}` is missing at the end of the file: `part P1` of line "
                "1 is still open."
            ),
            "1:30 syntax: A length is missing after `+`: the file ends here.",
        ],
    ),
    "length and number": (
        on_leg("hole 9 gauge 50 at 1in + 4 gauge 60"),
        [
            "5:37 given-twice: `gauge` is given twice for these holes.",
        ],
    ),
    "number over a length": (
        on_leg("hole 9 gauge 50 at 3 / 2mm"),
        [
            "5:33 not-a-length: A number over a length is no length and no count.",
        ],
    ),
    "sum of too many digits": (
        on_leg("hole 9 gauge 50 at 1" + " * 999999 / 777778" * 40),
        [
            ("5:393 number-too-long: This sum comes to a number of too many digits: simplify it."),
        ],
    ),
    "figure of too many digits": (
        in_mm("stated mass 1" + "0" * 30 + "kg/m"),
        [
            "5:14 syntax: `100000000000000000000000` is no decimal number.",
        ],
    ),
    "stated beyond measure": (
        in_mm("stated mass 9999999kg/m"),
        [
            (
                "5:9 value-out-of-range: The mass per metre is 9999999 kg: it must be at "
                "most 1000000 kg."
            ),
        ],
    ),
    "figure stated twice": (
        in_mm("stated mass 1kg/m mass 2kg/m"),
        [
            "5:20 given-twice: This figure is stated twice.",
        ],
    ),
    "saw length of nothing": (
        in_mm("stated saw 0"),
        [
            "5:13 size-not-positive: 0 mm is no saw length: it must be more than 0.",
        ],
    ),
    "bulge as a fraction": (
        on_leg("opening from 0,0 bulge 1/2 to 10,0"),
        [
            "5:33 syntax: `1/2` is no decimal number.",
        ],
    ),
    "angle of too many digits": (
        on_leg("slot 9 x 20 turned 1." + "1" * 30 + "deg gauge 50 at 40"),
        [
            "5:29 syntax: `1.1111111111111111111111` is no decimal number.",
        ],
    ),
    "angle in odd parts": (
        on_leg("slot 9 x 20 turned 22 1/3 deg gauge 50 at 40"),
        [
            "5:29 syntax: `22 1/3 deg` has odd parts of a degree: write it as a decimal.",
        ],
    ),
    "scribe of one point": (
        on_leg("scribe from 0,0"),
        [
            "5:10 value-out-of-range: 1 corner is fewer than 2, the fewest there may be.",
        ],
    ),
    "point too far": (
        on_leg("scribe from 0,0 to 9999999,0"),
        [
            "5:29 syntax: 9999999 is longer than a kilometre, the most a length may be.",
        ],
    ),
    "bulge and arc": (
        on_leg("opening from 0,0 bulge 0.5 arc radius 9 bowed toe to 10,0"),
        [
            ("5:23 contradiction: `bulge` and `arc` both tell the edge that leaves this corner."),
        ],
    ),
    "arc back to its beginning": (
        on_leg("opening from 5,0 arc radius 9 bowed toe to 5,0"),
        [
            "5:27 arc-impossible: This arc ends where it begins.",
        ],
    ),
    "arc through its end": (
        on_leg("opening from 0,0 arc through 10,0 to 10,0 to 5,5"),
        [
            "5:31 arc-impossible: The point that this arc runs through is one of its ends.",
        ],
    ),
    "arc through its very end": (
        on_leg("opening from 0,0 arc through 10,5 to 10,5"),
        [
            "5:31 arc-impossible: The point that this arc runs through is one of its ends.",
        ],
    ),
    "arc bowed to an edge": (
        on_leg("opening from 0,0 arc radius 9 bowed upper to 10,0"),
        [
            "5:46 syntax: An angle's leg has the sides `heel` and `toe`, not `upper`.",
        ],
    ),
    "arc of a flat bowed to the toe": (
        on_face("opening from 0,0 arc radius 9 bowed toe to 10,0"),
        [
            "5:45 syntax: A flat has the edges `lower` and `upper`, not `toe`.",
        ],
    ),
    "mitre of a flat's leg": (
        in_mm("mitre far 9deg long at upper edge of leg a", section="FB100x10"),
        [
            "5:43 syntax: A flat has no leg a: leave `of leg a` out.",
        ],
    ),
    "mitre of a flat's toe": (
        in_mm("mitre far 9deg long at toe", section="FB100x10"),
        [
            "5:25 syntax: A flat has the edges `lower` and `upper`, not `toe`.",
        ],
    ),
    "mitre of the face of an angle": (
        in_mm("mitre far 9deg long at toe of face"),
        [
            (
                "5:2 syntax: Say of which leg: `of leg a` or `of leg b`, since the cut "
                "runs over both."
            ),
        ],
    ),
    "negative mitre": (
        in_mm("mitre far -9deg long at toe of leg a"),
        [
            (
                "5:12 value-out-of-range: A mitre of -9 degrees can't be cut: it is 0 or "
                "more and less than 89, and where it is long is told in words."
            ),
        ],
    ),
    "mitre at the end": (
        in_mm("mitre end 9deg long at toe of leg a"),
        [
            "5:8 syntax: `both`, `far` or `start` is needed after `mitre`, not `end`.",
        ],
    ),
    "stamp twice": (
        on_leg("stamp mark at 40, 60 from heel 50 height 8"),
        [
            "5:21 syntax: A stamp has one position.",
        ],
    ),
    "stamp of a flat from the heel": (
        on_face("stamp mark at 40 from heel 50 height 8"),
        [
            "5:26 side-unknown: A stamp is placed `from lower edge`, and from no other edge.",
        ],
    ),
    "many trims": (
        on_leg("notch toe from 1 to 2 deep 3 " * 101),
        [
            "5:2 value-out-of-range: 101 trims are more than 100, the most there may be.",
        ],
    ),
    "features of two statements": (
        (
            on_leg("holes 9 gauge 50 at 1, 9000 @ 0.01 " * 3).replace(
                "}\n}", "}\n" + "#" * 80_000 + "\n}"
            )
        ),
        [
            (
                "5:80 too-many-features: 27003 features are more than 20000, the most a "
                "leg may have."
            ),
        ],
    ),
    "space of nothing": (
        on_leg("holes 9 gauge 50 spaces 40, 0"),
        [
            "5:38 positions-not-increasing: 0 mm is no space: it must be more than 0.",
        ],
    ),
    "total that is no length": (
        on_leg("holes 9 gauge 50 spaces 40 total 1 / 0"),
        [
            "5:47 not-a-length: A division by 0 has no result.",
        ],
    ),
    "depth of nothing in a cope": (
        on_leg("cope start toe 20 long x 0 deep"),
        [
            "5:35 size-not-positive: 0 mm is no cut: it must be more than 0.",
        ],
    ),
    "clip of nothing": (
        on_leg("clip start toe 0 x 5"),
        [
            "5:25 size-not-positive: 0 mm is no cut: it must be more than 0.",
        ],
    ),
    "rounding of nothing": (
        on_leg("round start toe radius 0"),
        [
            "5:33 size-not-positive: 0 mm is no radius: it must be more than 0.",
        ],
    ),
    "notch of nothing": (
        on_leg("notch toe from 10 to 20 deep 0"),
        [
            "5:39 size-not-positive: 0 mm is no depth: it must be more than 0.",
        ],
    ),
    "face trim at the toe": (
        on_face("clip start toe 5 x 5"),
        [
            "5:20 syntax: A flat has the edges `lower` and `upper`, not `toe`.",
        ],
    ),
    "section of nothing": (
        in_mm("", section="flat width 0 thickness 5"),
        [
            "3:21 size-not-positive: 0 mm is no size: it must be more than 0.",
        ],
    ),
    "waiver at two places": (
        in_mm('waive x-y on leg a on leg b "r"'),
        [
            "5:21 given-twice: The place is given twice.",
        ],
    ),
    "waiver of an odd rule": (
        in_mm('waive x_y "r"'),
        [
            (
                "5:2 value-out-of-range: 'x_y' will not do: the name of a rule has small "
                "letters and digits, joined by hyphens."
            ),
        ],
    ),
    "waiver without words": (
        in_mm('waive x-y ""'),
        [
            "5:2 value-out-of-range: The reason is empty.",
        ],
    ),
    "waiver up to too many digits": (
        in_mm("waive x-y at 1" + "0" * 30 + 'kg "r"'),
        [
            "5:15 syntax: `100000000000000000000000` is no decimal number.",
        ],
    ),
    "waiver of a broken leg": (
        in_mm('waive x-y on leg a hole 1 "r" leg a { hole 9 gauge 50 at 40, 30 }'),
        [
            (
                "5:63 positions-not-increasing: 30 mm does not lie beyond 40 mm, the "
                "position before it: did you mean `spaces`?"
            ),
        ],
    ),
    "waiver of half a hole": (
        in_mm('waive x-y on leg a hole 1/2 "r"'),
        [
            "5:26 syntax: `1/2` is no number of a hole.",
        ],
    ),
    "waiver of a flat's leg": (
        in_mm('waive x-y on leg a "r"', section="FB100x10"),
        [
            (
                "5:19 waiver-without-place: The waiver accepts nothing, since a flat has "
                "the one leg `face`."
            ),
        ],
    ),
    "waiver beyond the holes of a face": (
        in_mm('waive x-y on hole 3 "r" face { holes 9 gauge 50 at 40, 50 }', section="FB100x10"),
        [
            "5:15 waiver-without-place: There is no hole 3: the face has 2 holes.",
        ],
    ),
    "very long mark": (
        "units mm part " + "P" * 201 + " { section L100x100x10 length 300 }",
        [
            (
                "1:15 value-out-of-range: The mark is too long: 201 signs are more than "
                "200, the most there may be."
            ),
        ],
    ),
    "comma in a gauge": (
        on_leg("hole 9 gauge 62,5 at 40"),
        [
            (
                "5:23 syntax: `62,5` could mean two things: write 62, 5 for two numbers, "
                "or 62.5 for one."
            ),
        ],
    ),
    "units given badly": (
        "units 3\n" + in_mm("").split("\n", 1)[1],
        [
            "1:7 syntax: `inch` or `mm` is needed after `units`, not `3`.",
            ("2:1 setting-unread: This part takes its units from line 1, which could not be read."),
        ],
    ),
    "title alone": (
        'units mm part { "clip" }',
        [
            "1:10 length-missing: This part has no length: write `length 11-1/2`.",
            "1:10 section-missing: This part has no section: write `section L4x3-1/2x3/8`.",
            "1:15 syntax: A mark is needed after `part`, not `{`.",
            (
                '1:17 syntax: `"clip"` begins no statement here: a part holds `both`, `carried`, '
                "`drawing`, `face`, `finish`, `grade`, `leg`, `length`, `lot`, `mitre`, "
                "`order`, `phase`, `quantity`, `remark`, `revision`, `second`, "
                "`section`, `stated`, `waive`."
            ),
        ],
    ),
    "leg and face": (
        in_mm("leg a { } face { }"),
        [
            "5:12 syntax: An angle has no face: write `leg a { }` or `leg b { }`.",
        ],
    ),
}


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS)
def test_faults(text, expected):
    assert told(text) == expected


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS)
def test_only_sound_parts_are_given_on(text, expected):
    severities = [finding.severity for finding in read(text).findings]
    assert len(severities) == len(expected) > 0
    assert len(read(text).parts) == (0 if "error" in severities else 1)
