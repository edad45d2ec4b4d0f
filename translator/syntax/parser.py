"""Read part text into its tree; faults are kept in the tree, whatever the bytes are."""

from typing import Final

from translator.source import Source, decode
from translator.syntax import recovery, wording
from translator.syntax.cutter import UNKNOWN, Cutter
from translator.syntax.language import END, Language, Reduction, language
from translator.syntax.tree import Child, Extent, Fault, Node, PartText, Word

LARGEST_BYTES: Final = 16_000_000
"""A larger file is no part text anybody typed; it is refused before it fills the memory."""

DEEPEST: Final = 40
"""Brackets in brackets beyond this are refused: nobody can read them."""

_OPENERS: Final = frozenset({"PART", "FAMILY", "LEG", "FACE"})
_ABOVE_PARTS: Final = frozenset({"PART", "FAMILY", "USE"})
_BRACKETS: Final = frozenset({"LPAR", "RPAR"})
_FILE: Final = "file"
_LISTED: Final = frozenset({"NUMBER", "LPAR", "NAME"})

Value = Child | list[Child]
"""What the parser's stack holds: words, nodes, and the children of rules that leave no node."""


def parse_text(source: Source) -> PartText:
    """Read a file's bytes into its tree; never raises."""
    refusal = _refusal(source.data)
    if refusal:
        fault = Fault(message=refusal, extent=Extent(1, 1, 1, 1))
        return PartText(path=source.path, root=Node(_FILE, ()), faults=(fault,))
    text, encoding = decode(source.data)
    reading = _Reading(text, language())
    root = reading.run()
    return PartText(
        path=source.path,
        root=root,
        comments=tuple(reading.cutter.comments),
        faults=tuple(sorted(reading.cutter.faults, key=lambda f: (f.extent, f.message))),
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


class _Reading:
    """One run over one text: feeds the parser, and mends or drops what it can't take."""

    def __init__(self, text: str, grammar: Language) -> None:
        self.language = grammar
        self.cutter = Cutter(text, grammar)
        self.stack: list[int] = [grammar.start]
        self.values: list[Value] = []
        self.previous: Word | None = None
        self.depth = 0
        self.open_braces: dict[int, int] = {}
        self.followings: dict[tuple[int, ...], frozenset[str]] = {}

    def run(self) -> Node:
        while True:
            word = self.cutter.cut(self.stack[-1])
            if not self._feed(word):
                self._recover(word)
            elif word.type == END:
                root = self.values[-1]
                return root if isinstance(root, Node) else Node(_FILE, ())

    def _feed(self, word: Word) -> bool:
        """Give the parser one word; False, and nothing shifted, if it can't stand here."""
        stack, values, table = self.stack, self.values, self.language.table
        kind = word.type
        if kind not in table[stack[-1]] or (kind in _BRACKETS and not self._count(kind)):
            return False
        while True:
            step = table[stack[-1]].get(kind)
            if isinstance(step, int):
                stack.append(step)
                values.append(word)
                self.previous = word
                return True
            if step is None:
                return False
            children = values[-step.size :] if step.size else []
            if step.size:
                del stack[-step.size :]
                del values[-step.size :]
            stack.append(self.language.goto(stack[-1], step.rule))
            values.append(_built(step, children))
            if kind == END and stack[-1] == self.language.end:
                return True

    def _count(self, bracket: str) -> bool:
        self.depth += 1 if bracket == "LPAR" else -1
        return self.depth <= DEEPEST

    def _fault(self, message: str, extent: Extent) -> None:
        self.cutter.faults.append(Fault(message=message, extent=extent))

    def _recover(self, word: Word) -> None:
        mends = (self._respell, self._add_comma, self._open_block, self._close_block)
        if not any(mend(word) for mend in mends):
            self._give_up(word)

    # ------------------------------------------------------------ mending

    def _respell(self, word: Word) -> bool:
        if word.type != UNKNOWN:
            return False
        near = next(
            (
                near
                for near in self.language.near_words(word.text)
                if self.language.leads_on(self.stack, self.language.words[near])
            ),
            None,
        )
        if near is None:
            return False
        self._fault(wording.misspelt(word, near), word.extent)
        return self._feed(word._replace(type=self.language.words[near]))

    def _add_comma(self, word: Word) -> bool:
        if word.type not in _LISTED or not self.language.after(self.stack, "COMMA", word.type):
            return False
        self._fault(f"A comma is missing before {wording.quoted_word(word.text)}.", word.extent)
        return self._feed(word._replace(type="COMMA", text="")) and self._feed(word)

    def _open_block(self, word: Word) -> bool:
        if not self.language.after(self.stack, "LBRACE", word.type):
            return False
        self._fault(f"A `{{` is missing before {wording.quoted_word(word.text)}.", word.extent)
        self._feed(word._replace(type="LBRACE", text=""))
        self.cutter.cut_again()
        return True

    def _close_block(self, word: Word) -> bool:
        blocks = self._blocks()
        if not blocks or not self.language.leads_on(self.stack, "RBRACE"):
            return False
        opener, part = blocks[-1], self.cutter.offset(blocks[0].line, blocks[0].column)
        is_above = word.type in _ABOVE_PARTS and self.cutter.is_fresh
        if word.type != END and not is_above:
            if not self.language.after(self.stack, "RBRACE", word.type):
                return False
            if part not in self.open_braces:
                self.open_braces[part] = recovery.braces_left_open(self.cutter.text, part)
            is_nested = recovery.is_strong(
                self.language, self.cutter.text, self.cutter.begin, word.text
            ) and word.type in ("LEG", "FACE")
            if self.open_braces[part] <= 0 and not is_nested:
                return False
            self.open_braces[part] -= 1
        where = "at the end of the file" if word.type == END else f"before `{word.text}`"
        self._fault(
            f"A `}}` is missing {where}: `{opener.text}` of line {opener.line} is still open.",
            word.extent,
        )
        self._feed(word._replace(type="RBRACE", text=""))
        self.cutter.cut_again()
        return True

    def _blocks(self) -> list[Word]:
        """Return the first words of the open blocks, the outermost first."""
        found: list[Word] = []
        opener: Word | None = None
        for value in self.values:
            if not isinstance(value, Word):
                continue
            if value.type in _OPENERS:
                opener = value
            elif value.type == "LBRACE" and opener is not None:
                found.append(opener)
        return found

    def _block(self) -> str:
        blocks = self._blocks()
        if not blocks:
            return "file"
        return "part" if blocks[-1].type in ("PART", "FAMILY") else "leg"

    # ------------------------------------------------------------ giving up a statement

    def _give_up(self, word: Word) -> None:
        if self._begins_another(word):
            message = wording.unreadable(word) or wording.out_of_place(
                self.language, word, self._block()
            )
            self._fault(message, word.extent)
            begin = self.cutter.begin
            end = recovery.end_of_fault(self.language, self.cutter.text, begin)
            self._broken(begin, max(end, begin + len(word.text)))
            return
        self._fault(*self._told(word))
        text, begin = self.cutter.text, self.cutter.begin
        brace = recovery.brace_ahead(text, begin)
        if self.cutter.is_fresh and word.type != "LBRACE":
            brace = None
        if brace is not None and self.language.leads_on(self.stack, "LBRACE"):
            self.cutter.pass_to(brace)
            return
        kept = self._kept(is_head=brace is not None)
        is_head = self.stack[kept] in self.language.heads
        end = brace if is_head and brace is not None else self._end(word)
        first = _first(self.values[kept]) if self.stack[kept + 1 :] else word
        del self.stack[kept + 1 :]
        del self.values[kept:]
        self._broken(self.cutter.offset(first.line, first.column), end)

    def _begins_another(self, word: Word) -> bool:
        """Tell whether what was read before the word is whole, so that the fault begins here."""
        stack = self.stack
        if stack[-1] in self.language.statements:
            return True
        if not self._is_complete():
            return False
        is_behind_block = self.previous is not None and self.previous.type == "RBRACE"
        is_loose = word.type == UNKNOWN and self._block() == "file"
        begins = word.type == "RBRACE" or word.type in self.language.all_starters
        return self.cutter.is_fresh or is_behind_block or is_loose or begins

    def _is_complete(self) -> bool:
        """Tell whether a statement may end where reading stands."""
        stack = self.stack
        return stack[-1] not in self.language.heads and self.language.leads_on(stack, "BROKEN")

    def _told(self, word: Word) -> tuple[str, Extent]:
        stack = self.stack
        if self.depth > DEEPEST:
            return f"More than {DEEPEST} brackets are open here: simplify the sum.", word.extent
        unreadable = wording.unreadable(word)
        if unreadable is not None:
            return unreadable, word.extent
        if self._is_complete():
            first = _first(self.values[self._kept(is_head=False)])
            return wording.superfluous(word, first), word.extent
        key = tuple(stack)
        if key not in self.followings:
            self.followings[key] = self.language.following(stack)
        following = self.followings[key]
        fresh = self.cutter.is_fresh
        message = wording.expected(self.language, following, self.previous, word, fresh=fresh)
        if self.previous is None or not (fresh or word.type == END):
            return message, word.extent
        line, column = self.previous.extent[2:]
        return message, Extent(line, column, line, column)

    def _kept(self, *, is_head: bool) -> int:
        """Return the index of the last state that may go on behind a broken statement."""
        stack = self.stack
        fit = self.language.statements | (self.language.heads if is_head else frozenset())
        return max(index for index, state in enumerate(stack) if state in fit)

    def _end(self, word: Word) -> int:
        """Return where to go on once the statement that this word does not fit is dropped."""
        text, begin = self.cutter.text, self.cutter.begin
        if word.type == END:
            return begin
        if self.cutter.is_fresh and recovery.may_begin(self.language, text, begin):
            return begin
        if recovery.is_strong(self.language, text, begin, word.text):
            return begin
        return recovery.end_of_fault(self.language, text, begin)

    def _broken(self, begin: int, end: int) -> None:
        """Feed the text from one offset to another as a broken piece and go on behind it."""
        self.depth = 0
        if end > self.cutter.begin:
            self.cutter.pass_to(end)
        else:
            self.cutter.cut_again()
        extent = self.cutter.extent(begin, end)
        text = self.cutter.text[begin:end].rstrip()
        self._feed(Word("BROKEN", text, extent.line, extent.column))


def _built(step: Reduction, children: list[Value]) -> Value:
    """Return what a complete rule leaves on the stack; never recurses."""
    flat: list[Child]
    if step.has_dissolved:
        # A growing list is its rule's first child: it is grown, not copied.
        first = children[0] if children else None
        flat = first if not step.name and isinstance(first, list) else []
        for child in children[1:] if flat is first else children:
            if isinstance(child, list):
                flat.extend(child)
            else:
                flat.append(child)
    else:
        flat = [child for child in children if not isinstance(child, list)]
    if not step.name:
        return flat
    if step.is_single and len(flat) == 1:
        return flat[0]
    return Node(step.name, tuple(flat))


def _first(value: Value) -> Word:
    """Return the first word of a value of the stack."""
    while not isinstance(value, Word):
        value = value.children[0] if isinstance(value, Node) else value[0]
    return value
