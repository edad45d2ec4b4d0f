"""Read part text into its tree; faults are kept in the tree, whatever the bytes are."""

from typing import Final

from translator.source import Source, decode, lines_of
from translator.syntax import recovery, wording
from translator.syntax.cutter import UNKNOWN, Cutter
from translator.syntax.language import Language, language
from translator.syntax.machine import DEEPEST, Machine, first_of
from translator.syntax.table import END
from translator.syntax.tree import Extent, Fault, Node, PartText, Word

LARGEST_BYTES: Final = 4_000_000
"""A larger file is no part text anybody typed; 100,000 lines stay below."""

LONGEST_LINE: Final = 200_000
"""Signs of a line; a list of 20,000 positions stays below."""

_FILE: Final = "file"
_OPENERS: Final = frozenset({"PART", "FAMILY", "LEG", "BOTH", "FACE"})
_ABOVE_PARTS: Final = frozenset({"PART", "FAMILY", "USE"})
_LISTED: Final = frozenset({"NUMBER", "LPAR", "NAME"})


def parse_text(source: Source) -> PartText:
    """Read a file's bytes into its tree; never raises."""
    refusal = _refusal(source.data)
    if refusal:
        fault = Fault(message=refusal, extent=Extent(1, 1, 1, 1))
        return PartText(path=source.path, root=Node(_FILE, ()), faults=(fault,))
    text, encoding = decode(source.data)
    long = _long_line(text)
    if long is not None:
        return PartText(path=source.path, root=Node(_FILE, ()), faults=(long,))
    reading = _Reading(text, language())
    root = reading.run()
    return PartText(
        path=source.path,
        root=root,
        comments=tuple(reading.cutter.comments),
        faults=tuple(sorted(reading.cutter.faults, key=lambda f: (f.extent, f.message))),
        signs=len(text),
        encoding=encoding,
    )


def _refusal(data: bytes) -> str:
    if len(data) > LARGEST_BYTES:
        return (
            f"The file has {len(data)} bytes, more than the {LARGEST_BYTES} that a file of"
            " part text may have: it is not read."
        )
    if b"\0" in data:
        return "The file holds bytes of value 0, so it is no plain text: it is not read."
    return ""


def _long_line(text: str) -> Fault | None:
    """Return a fault at the first line that is too long, None without one."""
    for number, line in enumerate(lines_of(text), start=1):
        if len(line) > LONGEST_LINE:
            message = (
                f"The line has {len(line)} signs, more than the {LONGEST_LINE} that a line of"
                " part text may have: the file is not read."
            )
            return Fault(message=message, extent=Extent(number, 1, number, 1))
    return None


class _Reading:
    """One run over one text: feeds the machine, and mends or drops what it can't take."""

    def __init__(self, text: str, grammar: Language) -> None:
        self.language = grammar
        self.table = grammar.table
        self.cutter = Cutter(text, grammar)
        self.machine = Machine(grammar.table)
        self.braces: recovery.Braces | None = None
        self.left_open: dict[int, int] = {}
        self.followings: dict[tuple[int, ...], frozenset[str]] = {}

    @property
    def stack(self) -> list[int]:
        return self.machine.stack

    def run(self) -> Node:
        cutter, machine = self.cutter, self.machine
        while True:
            word = cutter.cut(machine.stack[-1])
            if not machine.feed(word):
                self._recover(word)
            elif word.type == END:
                root = machine.values[-1]
                return root if isinstance(root, Node) else Node(_FILE, ())

    def _fault(self, message: str, extent: Extent) -> None:
        self.cutter.faults.append(Fault(message=message, extent=extent))

    def _recover(self, word: Word) -> None:
        mends = (self._respell, self._add_comma, self._open_block, self._close_block)
        if not any(mend(word) for mend in mends):
            self._give_up(word)

    # ------------------------------------------------------------ mending

    def _respell(self, word: Word) -> bool:
        """Take a misspelt keyword for the one it is nearest to, if that may stand here."""
        if word.type != UNKNOWN:
            return False
        for near in self.language.near_words(word.text):
            if self.table.leads_on(self.stack, self.language.words[near]):
                self._fault(wording.misspelt(word, near), word.extent)
                return self.machine.feed(word._replace(type=self.language.words[near]))
        return False

    def _add_comma(self, word: Word) -> bool:
        if word.type not in _LISTED or not self.table.after(self.stack, "COMMA", word.type):
            return False
        self._fault(f"A comma is missing before {wording.quoted_word(word.text)}.", word.extent)
        self.machine.feed(word._replace(type="COMMA", text=""))
        return self.machine.feed(word)

    def _open_block(self, word: Word) -> bool:
        if not self.table.after(self.stack, "LBRACE", word.type):
            return False
        self._fault(f"A `{{` is missing before {wording.quoted_word(word.text)}.", word.extent)
        self.machine.feed(word._replace(type="LBRACE", text=""))
        self.cutter.cut_again()
        return True

    def _close_block(self, word: Word) -> bool:
        blocks = self._blocks()
        if not blocks or not self.table.leads_on(self.stack, "RBRACE"):
            return False
        if not self._is_block_over(word, blocks[0][0]):
            return False
        opener, head = blocks[-1]
        where = "at the end of the file" if word.type == END else f"before `{word.text}`"
        self._fault(
            f"A `}}` is missing {where}: `{head}` of line {opener.line} is still open.",
            word.extent,
        )
        self.machine.feed(word._replace(type="RBRACE", text=""))
        self.cutter.cut_again()
        return True

    def _is_block_over(self, word: Word, outermost: Word) -> bool:
        """Tell whether a word shows that a brace was forgotten before it."""
        if word.type == END or (word.type in _ABOVE_PARTS and self.cutter.is_fresh):
            return True
        if not self.table.after(self.stack, "RBRACE", word.type):
            return False
        part = self.cutter.offset(outermost.line, outermost.column)
        if self.braces is None:
            self.braces = recovery.braces_of(self.cutter.text)
        left_open = self.left_open.setdefault(part, self.braces.left_open(part))
        is_over = left_open > 0 or (word.type in ("LEG", "BOTH", "FACE") and self._is_strong(word))
        self.left_open[part] -= is_over
        return is_over

    def _blocks(self) -> list[tuple[Word, str]]:
        """Return the first word and the head of each open block, the outermost first."""
        found: list[tuple[Word, str]] = []
        head: list[Word] = []
        for value in self.machine.values:
            word = first_of(value) if value else None
            if word is not None and word.type in _OPENERS:
                head = [word]
            elif word is not None and word.type == "LBRACE" and head:
                found.append((head[0], " ".join(each.text for each in head)))
            elif word is not None and word.type == "RBRACE":
                found.pop()
            elif word is not None:
                head.append(word)
        return found

    def _block(self) -> str:
        blocks = self._blocks()
        if not blocks:
            return "file"
        return "part" if blocks[-1][0].type in ("PART", "FAMILY") else "leg"

    # ------------------------------------------------------------ giving up a statement

    def _give_up(self, word: Word) -> None:
        text, begin = self.cutter.text, self.cutter.begin
        if self._begins_another(word):
            unreadable = wording.unreadable(word)
            message = unreadable or wording.out_of_place(word, self._block())
            self._fault(message, word.extent)
            end = recovery.end_of_fault(self.language, text, begin)
            self._broken(begin, max(end, recovery.behind_braces(text, begin, word.text)))
            return
        self._fault(*self._told(word))
        brace = recovery.brace_ahead(text, begin)
        if self.cutter.is_fresh and word.type != "LBRACE":
            brace = None
        if brace is not None and self.table.leads_on(self.stack, "LBRACE"):
            self.cutter.pass_to(brace)
            return
        kept = self._kept(is_head=brace is not None)
        is_head = self.stack[kept] in self.language.heads
        end = brace if is_head and brace is not None else self._end(word)
        first = self.machine.drop_to(kept) or word
        self._broken(self.cutter.offset(first.line, first.column), end)

    def _begins_another(self, word: Word) -> bool:
        """Tell whether what was read before the word is whole, so that the fault begins here."""
        if self.stack[-1] in self.language.statements:
            return True
        if not self._is_complete():
            return False
        previous = self.machine.previous
        is_behind_block = previous is not None and previous.type == "RBRACE"
        is_loose = word.type == UNKNOWN and self._block() == "file"
        begins = word.type == "RBRACE" or word.type in self.language.all_starters
        return self.cutter.is_fresh or is_behind_block or is_loose or begins

    def _is_complete(self) -> bool:
        """Tell whether a statement may end where reading stands."""
        is_head = self.stack[-1] in self.language.heads
        return not is_head and self.table.leads_on(self.stack, "BROKEN")

    def _told(self, word: Word) -> tuple[str, Extent]:
        """Return the sentence and the place of a fault within a statement."""
        if self.machine.depth > DEEPEST:
            return f"More than {DEEPEST} brackets are open here: simplify the sum.", word.extent
        unreadable = wording.unreadable(word)
        if unreadable is not None:
            return unreadable, word.extent
        if self._is_complete():
            first = first_of(self.machine.values[self._kept(is_head=False)])
            return wording.superfluous(word, first), word.extent
        previous, fresh = self.machine.previous, self.cutter.is_fresh
        message = wording.expected(self._following(), previous, word, fresh=fresh)
        if previous is None or not (fresh or word.type == END):
            return message, word.extent
        line, column = previous.extent[2:]
        return message, Extent(line, column, line, column)

    def _following(self) -> frozenset[str]:
        key = tuple(self.stack)
        if key not in self.followings:
            self.followings[key] = self.table.following(key)
        return self.followings[key]

    def _kept(self, *, is_head: bool) -> int:
        """Return the index of the last state that may go on behind a broken statement."""
        fit = self.language.statements | (self.language.heads if is_head else frozenset())
        return max(index for index, state in enumerate(self.stack) if state in fit)

    def _is_strong(self, word: Word) -> bool:
        return recovery.is_strong(self.language, self.cutter.text, self.cutter.begin, word.text)

    def _end(self, word: Word) -> int:
        """Return where to go on once the statement that this word does not fit is dropped."""
        text, begin = self.cutter.text, self.cutter.begin
        begins_line = self.cutter.is_fresh and recovery.may_begin(self.language, text, begin)
        if word.type == END or begins_line or self._is_strong(word):
            return begin
        return recovery.end_of_fault(self.language, text, begin)

    def _broken(self, begin: int, end: int) -> None:
        """Feed the text from one offset to another as a broken piece and go on behind it."""
        if end > self.cutter.begin:
            self.cutter.pass_to(end)
        else:
            self.cutter.cut_again()
        line, column = self.cutter.extent(begin, end)[:2]
        self.machine.feed(Word("BROKEN", self.cutter.text[begin:end].rstrip(), line, column))
