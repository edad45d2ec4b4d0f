"""Broken part text: each fault is told once, at its place, in words, and hides no other."""

import pytest
from bmk_reading import in_inches, in_mm, on_face, on_inch_leg, on_leg, part, read, told

from translator.batch.choose import refusals
from translator.rules._digest import digests
from translator.syntax.parser import LARGEST_BYTES, LONGEST_LINE

PART = "part P1 { section L100x100x10 length 300 }"

FAULTS = {
    # what is wrong: (text, all findings)
    "stray word": (
        "garbage\n" + "units mm " + PART,
        [
            (
                "1:1 syntax: `garbage` is no word known here: a file holds `drawing`, "
                "`family`, `finish`, `grade`, `lot`, `order`, `part`, `phase`, "
                "`revision`, `units`, `use`."
            ),
        ],
    ),
    "stray brace": (
        "units mm " + PART + " }",
        [
            "1:53 syntax: This `}` closes nothing: no `{` is open here.",
        ],
    ),
    "brace alone": (
        "{ }",
        [
            (
                "1:1 syntax: `{` begins no statement here: a file holds `drawing`, "
                "`family`, `finish`, `grade`, `lot`, `order`, `part`, `phase`, "
                "`revision`, `units`, `use`."
            ),
        ],
    ),
    "misspelt unit": (
        "units inhc\n" + PART,
        [
            "1:7 syntax: `inhc` is no word known here: did you mean `inch`?",
            ("2:1 setting-unread: This part takes its units from line 1, which could not be read."),
            (
                "2:19 section-assumed: L100x100x10 is read in millimetres: it does not "
                "exist in inches, which bare numbers are here."
            ),
        ],
    ),
    "no unit": (
        PART.replace("units mm ", ""),
        [
            (
                "1:38 units-missing: A number without a unit takes the file's, and none "
                "is given before it: write `units mm` or `units inch` at the top."
            ),
        ],
    ),
    "unknown unit": (
        "units furlong\n" + PART,
        [
            "1:7 syntax: `inch` or `mm` is needed after `units`, not `furlong`.",
            ("2:1 setting-unread: This part takes its units from line 1, which could not be read."),
        ],
    ),
    "misspelt part": (
        "units mm\nprat P1 { section L100x100x10 length 300 }",
        [
            "2:1 syntax: `prat` is no word known here: did you mean `part`?",
        ],
    ),
    "misspelt setting": (
        "units mm\ngarde A36\n" + PART,
        [
            "2:1 syntax: `garde` is no word known here: did you mean `grade`?",
            ("3:1 setting-unread: This part takes its grade from line 2, which could not be read."),
        ],
    ),
    "setting without a text": (
        "units mm\ngrade\n" + PART,
        [
            "2:6 syntax: A text is missing after `grade`: the line ends here.",
            ("3:1 setting-unread: This part takes its grade from line 2, which could not be read."),
        ],
    ),
    "grade with a blank": (
        in_mm("grade S355 J2"),
        [
            "5:13 syntax: `J2` has no meaning here: a text with blanks is put in quotes.",
        ],
    ),
    "quote left open": (
        in_mm('grade "S355'),
        [
            "5:8 syntax: The quote that opens here is not closed on its line.",
        ],
    ),
    "quote left open before a brace": (
        'units mm\npart P1 "clip {\n section L100x100x10\n length 300\n}\n',
        [
            "2:9 syntax: The quote that opens here is not closed on its line.",
        ],
    ),
    "no mark": (
        "units mm part { section L100x100x10 length 300 }",
        [
            "1:15 syntax: A mark is needed after `part`, not `{`.",
        ],
    ),
    "mark with a blank": (
        "units mm part C 12 { section L100x100x10 length 300 }",
        [
            (
                "1:17 syntax: `12` has no meaning after the mark `C`: a mark with blanks "
                "or signs in it is put in quotes."
            ),
        ],
    ),
    "mark with a comma": (
        "units mm part C,12 { section L100x100x10 length 300 }",
        [
            (
                "1:16 syntax: `,` has no meaning after the mark `C`: a mark with blanks "
                "or signs in it is put in quotes."
            ),
        ],
    ),
    "mark on the next line": (
        "units mm part\nC12 { section L100x100x10 length 300 }",
        [
            "1:14 syntax: A mark is missing after `part`: the line ends here.",
            (
                "2:1 syntax: `C12` is no word known here: a file holds `drawing`, "
                "`family`, `finish`, `grade`, `lot`, `order`, `part`, `phase`, "
                "`revision`, `units`, `use`."
            ),
        ],
    ),
    "empty mark": (
        'units mm part "" { section L100x100x10 length 300 }',
        [
            "1:15 value-out-of-range: The mark is empty.",
        ],
    ),
    "no opening brace": (
        "units mm part P1 section L100x100x10 length 300 }",
        [
            "1:18 syntax: A `{` is missing before `section`.",
        ],
    ),
    "no closing brace": (
        "units mm part P1 { section L100x100x10 length 300",
        [
            (
                "1:50 syntax: A `}` is missing at the end of the file: `part P1` of line "
                "1 is still open."
            ),
        ],
    ),
    "leg left open": (
        ("units mm\npart P1 { section L100x100x10 length 300\nleg a {\nhole 9 gauge 50 at 40\n}\n"),
        [
            (
                "6:1 syntax: A `}` is missing at the end of the file: `part P1` of line "
                "2 is still open."
            ),
        ],
    ),
    "leg left open before the next": (
        (
            "units mm\npart P1 { section L100x100x10 length 300\nleg a {\n"
            "hole 9 gauge 50 at 40\nleg b { }\n}\n"
        ),
        [
            "5:1 syntax: A `}` is missing before `leg`: `leg a` of line 3 is still open.",
        ],
    ),
    "leg without its brace": (
        in_mm("leg a holes 9 gauge 50 at 40 }"),
        [
            "5:8 syntax: A `{` is missing before `holes`.",
        ],
    ),
    "leg c": (
        in_mm("leg c { hole 9 gauge 50 at 40 }"),
        [
            "5:6 syntax: `a` or `b` is needed after `leg`, not `c`.",
        ],
    ),
    "misspelt leg": (
        in_mm("legg a { hole 9 gauge 50 at 40 }"),
        [
            "5:2 syntax: `legg` is no word known here: did you mean `leg`?",
        ],
    ),
    "leg twice": (
        in_mm("leg a { } leg a { }"),
        [
            "5:12 given-twice: `leg a` is given twice: put all of it into one block.",
        ],
    ),
    "leg of a flat": (
        in_mm("leg a { }", section="FB100x10"),
        [
            "5:2 syntax: A flat has no leg a: write `face { }`.",
        ],
    ),
    "face of an angle": (
        in_mm("face { }"),
        [
            "5:2 syntax: An angle has no face: write `leg a { }` or `leg b { }`.",
        ],
    ),
    "no section": (
        "units mm part P1 { length 300 }",
        [
            "1:10 section-missing: This part has no section: write `section L4x3-1/2x3/8`.",
        ],
    ),
    "no length": (
        "units mm part P1 { section L100x100x10 }",
        [
            "1:10 length-missing: This part has no length: write `length 11-1/2`.",
        ],
    ),
    "length twice": (
        in_mm("length 301"),
        [
            "5:2 given-twice: The length of this part is given twice.",
        ],
    ),
    "length of nothing": (
        in_mm("", length="0"),
        [
            "4:9 size-not-positive: 0 mm is no length: it must be more than 0.",
        ],
    ),
    "length too long": (
        in_mm("", length="2 * 600000"),
        [
            (
                "4:9 length-too-large: 1200000 mm is longer than a kilometre, the most a "
                "length may be."
            ),
        ],
    ),
    "length of pieces": (
        in_mm("", length="300 pieces"),
        [
            (
                "4:13 syntax: `pieces` has no meaning here: the statement that begins "
                "with `length` was complete before it."
            ),
        ],
    ),
    "misspelt length": (
        in_mm("").replace("length", "lenght"),
        [
            "4:2 syntax: `lenght` is no word known here: did you mean `length`?",
        ],
    ),
    "section of another kind": (
        in_mm("", section="W12x26"),
        [
            (
                "3:10 section-unknown: W12x26 is a wide-flange shape: only angles and "
                "flats are made here."
            ),
        ],
    ),
    "section with a size too many": (
        in_mm("", section="L90x90x10x10"),
        [
            (
                "3:10 section-unknown: L90x90x10x10 has 4 sizes: an angle has two legs "
                "and a thickness (the length is given by itself)."
            ),
        ],
    ),
    "section forgotten": (
        "units mm part P1 { section length 300 }",
        [
            ("1:28 syntax: A section like `L4x3-1/2x3/8` is needed after `section`, not `length`."),
        ],
    ),
    "section thicker than its leg": (
        in_mm("", section="angle leg a 90 leg b 80 thickness 80"),
        [
            "3:2 value-out-of-range: Thickness 80 mm is not less than the leg of 80 mm.",
        ],
    ),
    "quantity of nothing": (
        in_mm("quantity 0"),
        [
            "5:2 value-out-of-range: The quantity is 0: it must be at least 1.",
        ],
    ),
    "half a piece": (
        in_mm("quantity 2.5"),
        [
            (
                "5:11 count-not-whole: 2.5 is no count of pieces: it must be 0 or a "
                "whole number above it."
            ),
        ],
    ),
    "quantity in inches": (
        in_mm("quantity 3in"),
        [
            "5:11 count-not-whole: 76.2 mm is a length, not a count of pieces.",
        ],
    ),
    "very many pieces": (
        in_mm("quantity 9999999"),
        [
            ("5:11 count-too-large: 9999999 pieces are more than 1000000, the most there may be."),
        ],
    ),
    "quantity forgotten": (
        in_mm("quantity\nremark x"),
        [
            "5:10 syntax: A count is missing after `quantity`: the line ends here.",
        ],
    ),
    "hole in the part": (
        in_mm("hole 9 gauge 50 at 40"),
        [
            "5:2 syntax: `hole` belongs inside `leg a { }`, `leg b { }` or `face { }`.",
        ],
    ),
    "length in a leg": (
        on_leg("length 5"),
        [
            "5:10 syntax: `length` belongs in a part, outside the braces of a leg or face.",
        ],
    ),
    "units in a part": (
        in_mm("units inch"),
        [
            "5:2 syntax: `units` stands above the parts, outside their braces.",
        ],
    ),
    "no gauge": (
        on_leg("hole 9 at 40"),
        [
            ("5:10 syntax: These holes have no gauge: say how far from the heel, as `gauge 50`."),
        ],
    ),
    "no gauge on a face": (
        on_face("hole 9 at 40"),
        [
            (
                "5:9 syntax: These holes have no gauge: say how far from the lower edge, "
                "as `gauge 50`."
            ),
        ],
    ),
    "no size": (
        on_leg("hole gauge 50 at 40"),
        [
            "5:10 syntax: These holes have no size: write a diameter, or `bolt` and its size.",
        ],
    ),
    "no position": (
        on_leg("hole 9 gauge 50"),
        [
            "5:10 syntax: These holes have no position: say `at` or `spaces`.",
        ],
    ),
    "position forgotten": (
        on_leg("hole 9 gauge 50 at"),
        [
            "5:29 syntax: A length is needed after `at`, not `}`.",
        ],
    ),
    "gauge forgotten": (
        on_leg("hole 9 gauge at 40"),
        [
            "5:23 syntax: A length is needed after `gauge`, not `at`.",
        ],
    ),
    "misspelt gauge": (
        on_leg("hole 9 guage 50 at 40"),
        [
            "5:17 syntax: `guage` is no word known here: did you mean `gauge`?",
        ],
    ),
    "falling positions": (
        on_leg("holes 9 gauge 50 at 40, 30"),
        [
            (
                "5:34 positions-not-increasing: 30 mm does not lie beyond 40 mm, the "
                "position before it: did you mean `spaces`?"
            ),
        ],
    ),
    "position twice": (
        on_leg("holes 9 gauge 50 at 40, 40"),
        [
            (
                "5:34 positions-not-increasing: 40 mm does not lie beyond 40 mm, the "
                "position before it: did you mean `spaces`?"
            ),
        ],
    ),
    "repeat without a position": (
        on_leg("holes 9 gauge 50 at 3 @ 40"),
        [
            (
                "5:30 positions-not-increasing: A repeat goes on from a position: give "
                "the first one before it."
            ),
        ],
    ),
    "repeat of nothing": (
        on_leg("holes 9 gauge 50 at 40, 3 @ 0"),
        [
            "5:38 positions-not-increasing: 0 mm is no space: it must be more than 0.",
        ],
    ),
    "repeat whose sum differs": (
        on_leg("holes 9 gauge 50 at 40, 3 @ 30 = 80"),
        [
            "5:34 sum-differs: 3 @ 30 mm is 90 mm, not 80 mm.",
        ],
    ),
    "repeat of half a space": (
        on_leg("holes 9 gauge 50 at 40, 1.5 @ 30"),
        [
            (
                "5:34 count-not-whole: 1.5 is no count of spaces: it must be 0 or a "
                "whole number above it."
            ),
        ],
    ),
    "repeat without end": (
        on_leg("holes 9 gauge 50 at 40, 1000000000 @ 1"),
        [
            (
                "5:34 count-too-large: 1000000000 spaces are more than 1000000, the most "
                "there may be."
            ),
        ],
    ),
    "repeat too often": (
        on_leg("holes 9 gauge 50 at 40, 20000 @ 0.01"),
        [
            (
                "5:10 too-many-features: 20001 features are more than 20000, the most a "
                "leg may have."
            ),
        ],
    ),
    "chain short of the end": (
        on_leg("holes 9 gauge 50 spaces 40, 2 @ 100, 50 to end"),
        [
            (
                "5:50 chain-off-length: The spaces come to 290 mm, 10 mm less than the "
                "length of 300 mm."
            ),
        ],
    ),
    "chain beyond the end": (
        on_inch_leg("holes 1/2 gauge 2 spaces 4, 8-1/4 to end"),
        [
            (
                "5:44 chain-off-length: The spaces come to 12-1/4 in., 1/4 in. more than "
                "the length of 12 in."
            ),
        ],
    ),
    "chain with another total": (
        on_leg("holes 9 gauge 50 spaces 40, 2 @ 100 total 230"),
        [
            "5:46 sum-differs: The spaces come to 240 mm, not 230 mm.",
        ],
    ),
    "end of positions": (
        on_leg("holes 9 gauge 50 at 40 to end"),
        [
            "5:33 meaningless: `to end` belongs to a chain of `spaces`, not to positions.",
        ],
    ),
    "positions twice": (
        on_leg("holes 9 gauge 50 at 40 spaces 50"),
        [
            "5:33 contradiction: Positions are given by `at` and by `spaces`: one is enough.",
        ],
    ),
    "at twice": (
        on_leg("holes 9 gauge 50 at 40 at 50"),
        [
            "5:33 given-twice: `at` is given twice for these holes.",
        ],
    ),
    "decimal comma": (
        on_leg("holes 9 gauge 50 at 31,75"),
        [
            (
                "5:30 syntax: `31,75` could mean two things: write 31, 75 for two "
                "numbers, or 31.75 for one."
            ),
        ],
    ),
    "comma missing": (
        on_leg("holes 9 gauge 50 at 40 60"),
        [
            "5:33 syntax: A comma is missing before `60`.",
        ],
    ),
    "gauges as spaces": (
        on_leg("holes 9 gauge 50, 30 at 40"),
        [
            (
                "5:28 gauges-not-increasing: 30 mm is not more than 50 mm, the gauge "
                "before it: each is measured from the heel."
            ),
        ],
    ),
    "fraction in millimetres": (
        on_leg("hole 13/16 gauge 50 at 40"),
        [
            (
                "5:15 syntax: 13/16 is a fraction, but a bare number here is "
                'millimetres: write 13/16" for inches, or a decimal for millimetres.'
            ),
        ],
    ),
    "length or subtraction": (
        on_inch_leg("hole 1/2 gauge 2 at 11 - 1/2"),
        [
            (
                "5:30 syntax: 11 - 1/2 could mean two things: write 11-1/2 for the one "
                "length, or 11 - 0.5 to subtract."
            ),
        ],
    ),
    "length or subtraction in a sum": (
        on_inch_leg("hole 1/2 gauge 2 at 3 * 2 - 1/2"),
        [
            (
                "5:34 syntax: 2 - 1/2 could mean two things: write 2-1/2 for the one "
                "length, or 2 - 0.5 to subtract."
            ),
        ],
    ),
    "glued minus": (
        on_inch_leg("hole 1/2 gauge 2 at 3-1"),
        [
            (
                "5:30 syntax: 3-1 is no length: a minus that subtracts has blanks on "
                "both sides, and a dash joins inches to a fraction only."
            ),
        ],
    ),
    "half glued minus": (
        on_inch_leg("hole 1/2 gauge 2 at 5 -1"),
        [
            ("5:32 syntax: A minus that subtracts has a blank on each side: write 5 - 1, not 5-1."),
        ],
    ),
    "minus glued to brackets": (
        on_inch_leg("hole 1/2 gauge 2 at (5)-1"),
        [
            ("5:33 syntax: A minus that subtracts has a blank on each side: write 5 - 1, not 5-1."),
        ],
    ),
    "glued letters": (
        on_inch_leg("hole 1/2 gauge 2 at 3abc"),
        [
            "5:30 syntax: `3abc` is neither a number nor a word.",
        ],
    ),
    "two points": (
        on_inch_leg("hole 1/2 gauge 2 at 1.2.3"),
        [
            "5:30 syntax: `1.2.3` is neither a number nor a word.",
        ],
    ),
    "bracket left open": (
        on_leg("hole 9 gauge 50 at (1 + 2"),
        [
            "5:36 syntax: `)` is needed after `2`, not `}`.",
        ],
    ),
    "bracket too many": (
        on_leg("hole 9 gauge 50 at 1 + 2)"),
        [
            (
                "5:34 syntax: `)` has no meaning here: the statement that begins with "
                "`hole` was complete before it."
            ),
        ],
    ),
    "deep brackets": (
        on_leg("hole 9 gauge 50 at " + "(" * 41 + "1" + ")" * 41),
        [
            "5:69 syntax: More than 40 brackets are open here: simplify the sum.",
        ],
    ),
    "division by nothing": (
        on_leg("hole 9 gauge 50 at 1 / (2 - 2)"),
        [
            "5:33 not-a-length: A division by 0 has no result.",
        ],
    ),
    "area": (
        on_leg("hole 9 gauge 50 at 2mm * 2mm"),
        [
            "5:35 not-a-length: A length times a length is an area, not a length.",
        ],
    ),
    "unknown name": (
        on_leg("hole 9 gauge pitch at 40"),
        [
            (
                "5:23 name-unknown: `pitch` stands for nothing here: only a family gives "
                "names to numbers."
            ),
        ],
    ),
    "hole of nothing": (
        on_leg("hole 0 gauge 50 at 40"),
        [
            "5:15 size-not-positive: 0 mm is no diameter: it must be more than 0.",
        ],
    ),
    "negative depth": (
        on_leg("hole 9 depth -1 gauge 50 at 40"),
        [
            "5:23 size-not-positive: -1 mm is no depth: it must be more than 0.",
        ],
    ),
    "unknown bolt": (
        on_leg("hole bolt 3/8 gauge 50 at 40"),
        [
            (
                "5:15 bolt-without-hole: No standard hole is known for a bolt 3/8: write "
                "the hole's diameter before it, as `holes 10 bolt 3/8`."
            ),
        ],
    ),
    "odd bolt": (
        on_leg("hole bolt M20x2.5 gauge 50 at 40"),
        [
            "5:15 syntax: `M20x2.5` is no bolt: write it like 3/4, 1-1/8 or M20.",
        ],
    ),
    "bolt forgotten": (
        on_leg("hole bolt gauge 50 at 40"),
        [
            "5:20 syntax: A bolt like `3/4` or `M20` is needed after `bolt`, not `gauge`.",
        ],
    ),
    "rod with a bolt": (
        on_leg("hole 9 bolt M8 rod gauge 50 at 40"),
        [
            "5:10 value-out-of-range: A rod hole takes no bolt, yet bolt M8 is named.",
        ],
    ),
    "two processes": (
        on_leg("hole 9 drill only punch gauge 50 at 40"),
        [
            "5:28 contradiction: `punch` and `drill only` exclude each other.",
        ],
    ),
    "clause of another thing": (
        on_leg("hole 9 gauge 50 at 40 height 3"),
        [
            "5:32 meaningless: `height` means nothing for holes.",
        ],
    ),
    "countersink without a size": (
        on_leg("hole 9 gauge 50 at 40 countersunk"),
        [
            "5:32 syntax: Say how wide the countersink is: `countersunk 25`.",
        ],
    ),
    "angle of a hole": (
        on_leg("hole 9 gauge 50 at 40 angle 3deg"),
        [
            "5:32 meaningless: An angle means something for holes only after `countersunk`.",
        ],
    ),
    "id of several": (
        on_leg('holes 9 gauge 50 at 40, 60 id "x"'),
        [
            "5:37 id-of-several: An id names one feature, and this statement makes 2.",
        ],
    ),
    "id twice": (
        on_leg("hole 9 gauge 50 at 40 id a2 hole 9 gauge 50 at 90"),
        [
            "5:57 id-twice: Two features have the id a2.",
        ],
    ),
    "odd id": (
        on_leg('hole 9 gauge 50 at 40 id "x y"'),
        [
            (
                "5:10 value-out-of-range: 'x y' will not do: an id has up to 64 letters, "
                "digits, `_`, `.` and `-`, and begins with a letter or digit."
            ),
        ],
    ),
    "slot without a direction": (
        on_leg("slot 9 x 20 gauge 50 at 40"),
        [
            (
                "5:10 syntax: These slots have no direction: say `along leg`, `across "
                "leg` or `turned 45deg`."
            ),
        ],
    ),
    "slot shorter than wide": (
        on_leg("slot 20 x 9 along leg gauge 50 at 40"),
        [
            "5:10 value-out-of-range: Slot length 9 mm is not more than its width of 20 mm.",
        ],
    ),
    "slot shorter than wide in inches": (
        on_inch_leg("slot 1 x 1/2 along leg gauge 2 at 3"),
        [
            "5:10 value-out-of-range: Slot length 1/2 in. is not more than its width of 1 in.",
        ],
    ),
    "nothing": ("", ["1:1 file-empty: No part and no family stands in this file."]),
    "settings alone": (
        'units mm\norder "TQ-7"\n# truncated\n',
        ["1:1 file-empty: No part and no family stands in this file."],
    ),
    "slot with one size": (
        on_leg("slot 20 along leg gauge 50 at 40"),
        [
            "5:18 syntax: `x` is needed after `20`, not `along`.",
        ],
    ),
    "angle without degrees": (
        on_leg("slot 9 x 20 turned 30 gauge 50 at 40"),
        [
            "5:29 syntax: An angle like `15deg` is needed after `turned`, not `30`.",
        ],
    ),
    "stamp without height": (
        on_leg("stamp mark at 40 from heel 50"),
        [
            "5:10 syntax: This stamp has no height: say `height 10`.",
        ],
    ),
    "stamp from the toe": (
        on_leg("stamp mark at 40 from toe 50 height 8"),
        [
            "5:27 side-unknown: A stamp is placed `from heel`, and from no other edge.",
        ],
    ),
    "empty stamp": (
        on_leg('stamp "" at 40 from heel 50 height 8'),
        [
            "5:10 value-out-of-range: The text is empty.",
        ],
    ),
    "stamp without a text": (
        on_leg("stamp at 40 from heel 50 height 8"),
        [
            "5:16 syntax: A text in quotes or `mark` is needed after `stamp`, not `at`.",
        ],
    ),
    "cope without a side": (
        on_leg("cope start 20 long x 10 deep"),
        [
            ("5:21 syntax: `heel`, `lower`, `toe` or `upper` is needed after `start`, not `20`."),
        ],
    ),
    "cope without words": (
        on_leg("cope start toe 20 x 10"),
        [
            "5:28 syntax: `deep` or `long` is needed after `20`, not `x`.",
        ],
    ),
    "cope of a flat's side": (
        on_leg("cope start upper 20 long x 10 deep"),
        [
            "5:21 syntax: An angle's leg has the sides `heel` and `toe`, not `upper`.",
        ],
    ),
    "cope with a large radius": (
        on_leg("cope start toe 20 long x 10 deep radius 15"),
        [
            ("5:10 value-out-of-range: Cope radius 15 mm is more than its shorter side of 10 mm."),
        ],
    ),
    "notch backwards": (
        on_leg("notch toe from 60 to 40 deep 5"),
        [
            "5:10 value-out-of-range: The notch ends at 40 mm, not beyond its start at 60 mm.",
        ],
    ),
    "arc of too small a radius": (
        on_leg("opening from 0,0 arc radius 4 bowed toe to 10,0"),
        [
            (
                "5:31 arc-impossible: A radius of 4 mm is too small: the ends of the arc "
                "are 10 mm apart."
            ),
        ],
    ),
    "arc too long": (
        on_leg("opening from 0,0 arc through 5,6 to 10,0"),
        [
            "5:31 arc-too-long: This arc is more than a half circle: cut it in two.",
        ],
    ),
    "arc along its way": (
        on_leg("opening from 0,0 arc radius 6 bowed far to 10,0"),
        [
            "5:31 arc-impossible: This arc runs straight along `far`, so it can't bow to it.",
        ],
    ),
    "bulge too large": (
        on_leg("opening from 0,0 bulge 1.5 to 10,0"),
        [
            (
                "5:27 arc-too-long: A bulge of 1.5 is more than a half circle, which is "
                "1: cut the arc in two."
            ),
        ],
    ),
    "point without y": (
        on_leg("opening from 0,0 to 10 to 5,5"),
        [
            "5:33 syntax: `,` is needed after `10`, not `to`.",
        ],
    ),
    "outline of two corners": (
        on_leg("outline from 0,0 to 10,0"),
        [
            "5:10 value-out-of-range: 2 corners are fewer than 3, the fewest there may be.",
        ],
    ),
    "opening of one corner": (
        on_leg("opening from 0,0"),
        [
            "5:10 value-out-of-range: 1 corner is fewer than 2, the fewest there may be.",
        ],
    ),
    "mitre without degrees": (
        in_mm("mitre far 15 from square, long at toe of leg a"),
        [
            "5:12 syntax: An angle like `15deg` is needed after `far`, not `15`.",
        ],
    ),
    "mitre of no leg": (
        in_mm("mitre far 15deg, long at toe"),
        [
            (
                "5:2 syntax: Say of which leg: `of leg a` or `of leg b`, since the cut "
                "runs over both."
            ),
        ],
    ),
    "mitre at an edge": (
        in_mm("mitre far 15deg, long at upper edge of leg a"),
        [
            "5:27 syntax: An angle's leg has the sides `heel` and `toe`, not `upper`.",
        ],
    ),
    "mitre twice": (
        in_mm("mitre far 15deg, long at toe of leg a mitre far 5deg, long at heel of leg a"),
        [
            "5:40 given-twice: The far end of leg a has two mitres.",
        ],
    ),
    "mitre too steep": (
        in_mm("mitre far 90deg, long at toe of leg a"),
        [
            (
                "5:12 value-out-of-range: A mitre of 90 degrees can't be cut: it is 0 or "
                "more and less than 89, and where it is long is told in words."
            ),
        ],
    ),
    "waiver of nothing": (
        in_mm('waive x-y on leg a hole 1 "r"'),
        [
            "5:21 waiver-without-place: There is no hole 1: leg a has no hole.",
        ],
    ),
    "waiver without a reason": (
        in_mm("waive x-y on leg a"),
        [
            "5:2 syntax: A waiver gives its reason in quotes.",
        ],
    ),
    "waiver without a rule": (
        in_mm('waive on leg a "r"'),
        [
            "5:8 syntax: The name of a rule is needed after `waive`, not `on`.",
        ],
    ),
    "waiver until some day": (
        in_mm('waive x-y "r" until tomorrow'),
        [
            (
                "5:22 syntax: A date like `2027-01-31` or `revision` is needed after "
                "`until`, not `tomorrow`."
            ),
        ],
    ),
    "waiver of no leg": (
        in_mm('waive x-y on hole 1 "r" leg a { hole 9 gauge 50 at 40 }'),
        [
            "5:15 syntax: Say on which leg: `on leg a hole 1`.",
        ],
    ),
    "mass without unit": (
        in_mm("stated mass 12"),
        [
            (
                "5:14 syntax: A figure with its unit like `12.2kg/m` is needed after "
                "`mass`, not `12`."
            ),
        ],
    ),
    "mass in another unit": (
        in_mm("stated mass 12kg"),
        [
            "5:14 syntax: `12kg` has another unit than kg/m.",
        ],
    ),
    "strange character": (
        in_mm("quantity $3"),
        [
            "5:11 syntax: The character `$` has no meaning here.",
        ],
    ),
    "control character": (
        in_mm("quantity \x07 3"),
        [
            "5:11 syntax: The character U+0007 has no meaning here.",
        ],
    ),
    "tab in a text": (
        in_mm('grade "a\tb"'),
        [
            "5:2 value-out-of-range: Grade: it holds the control character U+0009.",
        ],
    ),
    "binary": (
        "units\0mm",
        [
            (
                "1:1 syntax: The file holds bytes of value 0, so it is no plain text: it "
                "is not read."
            ),
        ],
    ),
}


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS)
def test_faults(text, expected):
    assert told(text) == expected


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS)
def test_a_part_with_an_error_is_never_given_on(text, expected):
    reading = read(text)
    assert {f.severity for f in reading.findings} >= {"error"}
    assert len(reading.findings) == len(expected)
    for placed in reading.parts:
        mark = placed.part.mark
        assert not [f for f in reading.findings if f.mark == mark and f.severity == "error"]


MANY = """\
units inch
order "TQ-7
part C1 "clip" {
  section L4x4x3/8   lenght 12
  quantity 24 6
  leg a {
    holes 13/16 guage 2 at 1-1/4 3 @ 3
    hole 13/16 gauge at 3
    foo 7
    holes 13/16 gauge 2 at 3, 2
  leg b {
    slots 13/16 x 1 gauge 2 at 1
  }
}
part C2 { section L4x4x3/8 length 12 leg a { hole 13/16 gauge 2 at 1 } }
part C3 { section L4x4x3/8 leg a { hole 13/16 gauge 2 at 1-1 } }
"""


def test_all_faults_of_a_file_are_told():
    assert told(MANY) == [
        "2:7 syntax: The quote that opens here is not closed on its line.",
        "3:1 setting-unread: This part takes its order from line 2, which could not be read.",
        "4:22 syntax: `lenght` is no word known here: did you mean `length`?",
        (
            "5:15 syntax: `6` has no meaning here: the statement that begins with `quantity` was"
            " complete before it."
        ),
        "7:17 syntax: `guage` is no word known here: did you mean `gauge`?",
        "7:34 syntax: A comma is missing before `3`.",
        "8:22 syntax: A length is needed after `gauge`, not `at`.",
        (
            "9:5 syntax: `foo` is no word known here: a leg or face holds `centre`, `clip`,"
            " `cope`, `hole`, `notch`, `opening`, `outline`, `pop`, `round`, `scribe`, `slot`,"
            " `stamp`."
        ),
        (
            "10:31 positions-not-increasing: 2 in. does not lie beyond 3 in., the position before"
            " it: did you mean `spaces`?"
        ),
        "11:3 syntax: A `}` is missing before `leg`: `leg a` of line 6 is still open.",
        (
            "12:5 syntax: These slots have no direction: say `along leg`, `across leg` or"
            " `turned 45deg`."
        ),
        "15:1 setting-unread: This part takes its order from line 2, which could not be read.",
        "16:1 length-missing: This part has no length: write `length 11-1/2`.",
        "16:1 setting-unread: This part takes its order from line 2, which could not be read.",
        (
            "16:58 syntax: 1-1 is no length: a minus that subtracts has blanks on both sides, and"
            " a dash joins inches to a fraction only."
        ),
    ]


def test_the_other_parts_of_a_file_are_given_on():
    text = MANY.replace('order "TQ-7', 'order "TQ-7"')
    assert [placed.part.mark for placed in read(text).parts] == ["C2"]


def test_findings_name_part_and_element():
    (finding,) = read(on_leg("hole 9 at 40")).findings
    assert (finding.mark, finding.element, finding.span.path) == ("P1", "legs.a", "shop/x.bmk")
    (finding,) = read(in_mm("", section="W12x26")).findings
    assert (finding.mark, finding.element) == ("P1", "section")


def test_no_message_shows_the_grammar():
    texts = [text for text, _ in FAULTS.values()]
    messages = [f.message for text in texts for f in read(text).findings]
    assert len(messages) > 100
    for message in messages:
        assert message[0].isupper() or message[0] in "`'-" or message[0].isdigit()
        assert message.endswith((".", "?"))
        assert not any(word in message for word in ("LBRACE", "NUMBER", "BARE", "Token", "_TEXT"))


def test_units_missing_is_told_once_a_part():
    text = "part A { section L90x90x10 length 9 quantity 2 } part B { section FB4x3/8 length 9in }"
    assert [f.rule for f in read(text).findings] == ["units-missing"]
    assert [placed.part.mark for placed in read(text).parts] == ["B"]


def test_sections_that_need_the_unit_ask_for_it():
    assert told("part A { section FB10x2 length 9mm }") == [
        (
            "1:18 units-missing: The sizes of FB10x2 take the file's unit, and none is given"
            " before it: write `units mm` or `units inch` at the top."
        )
    ]


def test_a_waiver_may_name_what_is_not_there_with_a_warning():
    reading = read(in_mm('waive x-y on leg a a7 "r"'))
    assert [(f.severity, f.rule) for f in reading.findings] == [("warning", "waiver-without-place")]
    assert reading.parts[0].part.waivers[0].feature == "a7"


def test_warnings_and_notes_do_not_keep_a_part_back():
    text = on_leg("opening from 0,0 to 9,0 to 9,9 to 0,0 close")
    assert [(f.severity, f.rule) for f in read(text).findings] == [("warning", "corner-twice")]
    assert len(read(text).parts) == 1
    text = in_mm('waive x-y "r" until 2027-02-30')
    assert [(f.severity, f.rule) for f in read(text).findings] == [("warning", "date-unreal")]
    assert len(read(text).parts) == 1


def test_a_part_of_many_features_is_refused_by_the_size_of_its_file():
    text = on_leg("holes 9 gauge 50 at 1, 10500 @ 0.01")
    limit = 10_000 + len(text) // 4
    assert told(text) == [
        (
            f"5:10 too-many-features: With these the file has 10501 features, more than the"
            f" {limit} that a file of its size may have: split it."
        )
    ]
    assert len(part(on_leg("holes 9 gauge 50 at 1, 9999 @ 0.01")).legs.a.features) == 10_000


def test_a_file_beyond_all_measure_is_refused():
    found = told(b"#" * (LARGEST_BYTES + 1))
    assert found == [
        (
            "1:1 syntax: The file has 4000001 bytes, more than the 4000000 that a file of part"
            " text may have: it is not read."
        )
    ]


def test_a_line_beyond_all_measure_is_refused():
    longest = "# " + "x" * (LONGEST_LINE - 2)
    assert told(in_inches("") + longest) == told(in_inches(""))
    assert told(f"units inch\n{longest}x\n") == [
        (
            "2:1 syntax: The line has 200001 signs, more than the 200000 that a line of part text"
            " may have: the file is not read."
        )
    ]


def test_a_part_of_more_corners_than_may_be_is_refused():
    def contours(corners):
        ring = " to ".join(f"{1 + n * 0.01:.2f},{20 + n % 2}" for n in range(corners))
        return on_leg(f"opening from {ring} close opening from 1,50 to 9,50 to 9,60 close")

    assert not any("corners" in line for line in told(contours(4997)))
    assert told(contours(4998)) == [
        (
            "2:1 value-out-of-range: Its contours and lines have 5001 corners, more than the 5000"
            " that a part may have."
        )
    ]


def test_inches_show_as_inches():
    text = in_inches("leg a { holes 1/2 gauge 2-1/2, 2 at 1 }")
    assert told(text) == [
        (
            "5:33 gauges-not-increasing: 2 in. is not more than 2-1/2 in., the gauge before it:"
            " each is measured from the heel."
        )
    ]


TWO = """units mm
part A1 { section FB 100x10 length 320 grade S275JR }
part A2 %s
part A3 { section FB 100x10 length 320 grade S275JR }
"""
MARKS = {
    "in its braces": ("{ section FB 100x10 length 320 grade S275JR bogus }", {"A2"}),
    "in a leg": ("{ section FB 100x10 length 320\n face { holes 9 gauge 50 }\n}", {"A2"}),
    "in the head": ('"a" "b" { section FB 100x10 length 320 }', {""}),
    "brace missing": ("{ section FB 100x10 length 320", {""}),
    "unit in a part": ("{ section FB 100x10\n units inch\n length 320 }", {""}),
    "behind the part": ("{ section FB 100x10 length 320 } bogus", {""}),
}


@pytest.mark.parametrize("case", MARKS, ids=lambda name: name.replace(" ", "-"))
def test_a_fault_is_held_against_the_part_that_has_it(case):
    text, marks = MARKS[case]
    reading = read(TWO % text)
    assert {finding.mark for finding in reading.findings} == marks
    placed = reading.parts
    reasons = refusals(digests(placed), reading.findings)
    kept = [one.part.mark for one, why in zip(placed, reasons, strict=True) if not why]
    assert kept == ([] if marks == {""} else ["A1", "A3"])
