"""Turn a bar program into a plain listing in the manner of ISO 6983. An EXAMPLE, see README.md.

    python iso_listing.py bar-001.program.json > bar-001.txt

It is not to be run on a machine: no control has these axes and M words. It shows how little a
postprocessor needs: everything is in the program, in the order it is done.
"""  # noqa: INP001 - a script, no package

import json
import sys
from pathlib import Path

# What each M word of the listing means; a real control has its own.
HITS = {"punch": 21, "drill": 22, "mill": 23, "mark": 24}
STAMP, CUT, CLAMP, UNCLAMP, CHANGE, HOLD, END = 25, 26, 10, 11, 6, 0, 2
GAUGE = {"left": "Y", "right": "V"}  # one axis across the bar on each side


def comment(text: str) -> str:
    """Return a text as a comment: plain letters, and no bracket that would end it."""
    plain = text.encode("ascii", "replace").decode().replace("(", "[").replace(")", "]")
    return "(" + "".join(c if c.isprintable() else "?" for c in plain) + ")"


def word(letter: str, value: float) -> str:
    """Return a word: a letter and a figure of three decimals."""
    return f"{letter}{round(value, 3) + 0.0:.3f}"


class Listing:
    """The blocks of a listing, one after the other."""

    def __init__(self, program: dict) -> None:
        self.program = program
        names = [(tool["station"], tool["tool"]) for tool in program["tools"]]
        self.tools = {name: number for number, name in enumerate(names, start=1)}
        self.lines = []
        self.blocks = 0
        self.feed = 0.0

    def block(self, *words: str, said: str = "") -> None:
        """Add a numbered block, with a comment behind it."""
        self.blocks += 10
        text = " ".join((f"N{self.blocks:05d}", *words))
        self.lines.append(text + (f" {comment(said)}" if said else ""))

    def head(self, caution: str) -> None:
        """Say what a person must know before anything moves."""
        program = self.program
        self.lines.append("%")
        says = ["EXAMPLE LISTING - NOT TO BE RUN ON A MACHINE", *caution.split(". ")]
        says += [f"MACHINE {program['machine']}  BAR {program['bar_id']}  STOCK {program['stock']}"]
        says += [f"SECTION {program['section']}  HEAT {program.get('heat', 'not known')}"]
        says += [f"MEASURE THE BAR - RUN NONE UNDER {program['least_length_mm']:.1f} MM"]
        says += [f"T{n} = STATION {s} TOOL {t}" for (s, t), n in self.tools.items()]
        says += ["X = LEAD END OF THE BAR, Y V = GAUGE LEFT RIGHT, A B = SWING LEFT RIGHT"]
        says += ["M21 PUNCH  M22 DRILL  M23 MILL  M24 MARK  M25 STAMP  M26 CUT"]
        for piece in program["pieces"]:
            left = "; ".join(work["what"] for work in piece["second_work"])
            says.append(f"PIECE {piece['number']} {piece['mark']}  SECOND WORK: {left or 'none'}")
        self.lines += [comment(text) for text in says]
        self.block("G71", "G90", said="millimetres, absolute")

    def step(self, step: dict) -> None:
        """Add the blocks of one step of the program."""
        kind = step["kind"]
        if kind == "tool_change":
            number = self.tools[step["station"], step["tool"]]
            self.block(f"T{number}", f"M{CHANGE:02d}", said="put in")
        elif kind == "grip":
            if step["is_regrip"]:
                self.block(f"M{UNCLAMP}", said="let go")
            said = f"jaw {step['from_mm']:.1f} to {step['to_mm']:.1f} of the bar"
            self.block("G00", word("U", step.get("carriage_mm", 0.0)), f"M{CLAMP}", said=said)
        elif kind in ("load", "move", "stop"):
            self.block(
                "G00", word("X", step["feed_mm"]), said=f"{kind} {step.get('number', '')}".strip()
            )
            self.feed = step["feed_mm"]
            for work in step.get("operations", ()):
                self.work(work)
        elif kind == "measure":
            self.block(f"M{HOLD:02d}", said=step["instruction"])
        else:
            self.block(f"M{END:02d}", said="end of bar")

    def work(self, work: dict) -> None:
        """Add the block of one thing that is done at a stop."""
        if work["kind"] == "cut":
            swing = (word("A", work["left_deg"]), word("B", work["right_deg"]))
            freed = work.get("frees", "none")
            self.block(
                *swing, f"M{CUT}", said=f"{work['type']} at {work['heel_mm']:.3f} frees {freed}"
            )
            return
        axis = GAUGE[work["side"]]
        said = f"{work['mark']} piece {work['piece']} {work['feature']}"
        if work["kind"] == "stamp":
            turn = word("C", work["reading_deg"])
            self.block(
                word(axis, work["gauge_mm"]), turn, f"M{STAMP}", said=f"{work['text']} on {said}"
            )
            return
        words = [word(axis, work["gauge_mm"]), f"M{HITS[work['process']]}"]
        if "tool" in work:
            words.insert(0, f"T{self.tools[work['station'], work['tool']]}")
        if "direction_deg" in work:
            words.insert(-1, word("C", work["direction_deg"]))
        if "depth_mm" in work:
            words.insert(-1, word("Z", -work["depth_mm"]))
        self.block(*words, said=said)
        if "to_bar_mm" in work:  # the cutter stays in, bar and gauge move on
            self.feed += work["to_bar_mm"] - work["bar_mm"]
            across = work["to_gauge_mm"]
            self.block("G01", word("X", self.feed), word(axis, across), said="to the slot's end")


def listing(document: dict) -> str:
    """Return the listing of a bar program; refuse what is not one, or can't be made."""
    if document.get("format") != "backmark/program" or not document["version"].startswith("1."):
        raise SystemExit("not a bar program of version 1")
    program = document["program"]
    if program["refused"] or not program["steps"]:
        raise SystemExit(f"{program['bar_id']} can't be made: see `refused` in the program")
    made = Listing(program)
    made.head(document["caution"])
    for step in program["steps"]:
        made.step(step)
    return "\n".join([*made.lines, "%", ""])


if __name__ == "__main__":
    sys.stdout.write(listing(json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))))
