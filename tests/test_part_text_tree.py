"""The tree of part text: every word and comment with its place, so that it can be printed again."""

import pytest
from test_grammar import EXAMPLES

from translator.source import Source
from translator.syntax.parser import parse_text
from translator.syntax.tree import Comment, Extent, Node, Word

FAMILIES = """\
# a shop's own
use "clips.bmk"   # brings clip
part B7R opposite B7 { quantity 6 }
family clip(rows, pitch = 3, line = 2-1/2) {
  section L4x3-1/2x3/8
  length  2 * 1-1/4 + (rows - 1) * pitch
  leg a { holes 13/16 gauge line at 1-1/4, (rows - 1) @ pitch }
}
part C20 "\u00fcber" = clip(rows = 5) { quantity 8 }
"""
TEXTS = [*EXAMPLES, FAMILIES]


def tree_of(text):
    return parse_text(Source(path="x.bmk", data=text.encode()))


def words(node):
    for child in node.children:
        if isinstance(child, Node):
            yield from words(child)
        else:
            yield child


@pytest.mark.parametrize("text", TEXTS, ids=range(len(TEXTS)))
def test_words_and_comments_are_all_of_the_text(text):
    tree = tree_of(text)
    assert tree.faults == ()
    rest = [list(line) for line in text.split("\n")]
    found = [*(word for word in words(tree.root) if word.type != "$END"), *tree.comments]
    assert len(found) > 20
    for each in found:
        for number, sign in enumerate(each.text, each.column - 1):
            assert rest[each.line - 1][number] == sign
            rest[each.line - 1][number] = " "
    assert "".join("".join(line) for line in rest).strip() == ""


@pytest.mark.parametrize("text", TEXTS, ids=range(len(TEXTS)))
def test_nodes_span_their_words(text):
    stack = [tree_of(text).root]
    while stack:
        node = stack.pop()
        assert node.children
        for child in node.children:
            assert node.extent.contains(child.extent)
            if isinstance(child, Node):
                stack.append(child)


def test_comments_know_whether_they_stand_alone():
    assert tree_of(FAMILIES).comments == (
        Comment(text="# a shop's own", line=1, column=1, alone=True),
        Comment(text="# brings clip", line=2, column=19, alone=False),
    )


def test_families_are_in_the_tree():
    tree = tree_of(FAMILIES)
    assert [node.name for node in tree.root.nodes()] == ["use", "part", "family", "part"]
    family = tree.root.node("family")
    names = [parameter.word("NAME").text for parameter in family.nodes("parameter")]
    assert names == ["rows", "pitch", "line"]
    last = list(tree.root.nodes("part"))[-1]
    assert last.node("call").node("argument").word("NUMBER") == Word("NUMBER", "5", 9, 31)


def test_what_could_not_be_read_is_in_the_tree():
    tree = tree_of("units mm\npart P1 {\n section L90x90x10 foo bar 3\n length 5 {\n 7 }\n}\n")
    (piece,) = tree.root.nodes("part")
    assert [broken.children[0].text for broken in piece.nodes("broken")] == ["length 5 {\n 7 }"]
    assert piece.node("broken").extent == Extent(4, 2, 5, 5)
    assert len(tree.faults) == 1


def test_the_tree_is_frozen():
    tree = tree_of(FAMILIES)
    with pytest.raises(AttributeError):
        tree.path = "y"
    assert tree == tree_of(FAMILIES)
    assert hash(tree.root) == hash(tree_of(FAMILIES).root)


def test_broken_text_may_run_over_lines():
    assert Word("BROKEN", "ab\ncd", 3, 5).extent == Extent(3, 5, 4, 3)
    assert Word("BROKEN", "ab\r\ncd\re", 3, 5).extent == Extent(3, 5, 5, 2)
    assert Word("STRING", '"ab"', 3, 5).extent == Extent(3, 5, 3, 9)
    assert Node("file", ()).extent == Extent(1, 1, 1, 1)


def test_a_word_that_the_grammar_sees_to():
    node = Node("gauge", (Word("GAUGE", "gage", 1, 1), Word("NUMBER", "3", 1, 6)))
    assert node.its("GAUGE").text == "gage"
    assert (node.first_word.text, node.last_word.text) == ("gage", "3")
    with pytest.raises(LookupError, match="no word AT or TO"):
        node.its("AT", "TO")
