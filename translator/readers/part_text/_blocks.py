"""The blocks of a part's legs, put together leg by leg."""

from collections.abc import Mapping

from translator.model import LegName
from translator.readers.part_text._book import SYNTAX
from translator.readers.part_text._frames import Spot
from translator.readers.part_text._layers import Layers, Said
from translator.readers.part_text._legs import LegRead, read_leg
from translator.readers.part_text._scope import Scope
from translator.syntax.tree import Node


def read_legs(layers: Layers, scope: Scope) -> tuple[dict[LegName, LegRead], Mapping[str, Spot]]:
    """Read the blocks of all legs, those too that the section does not have.

    Returns:
        The legs by name, and the places of what is on them.
    """
    blocks: dict[LegName | None, list[Said]] = {}
    for said in layers.every("leg", "face"):
        with scope.under(said.frame) as own:
            for name in _names(said.node, own):
                before = blocks.setdefault(name, [])
                _ask_whether_twice(name, said, before, own)
                before.append(said)
    found: dict[LegName, LegRead] = {}
    places: dict[str, Spot] = {}
    for name, every in blocks.items():
        scope.book.element = "" if name is None else f"legs.{name}"
        read = read_leg(every, name or "a", scope)
        if name is not None:
            found[name] = read
            last = every[-1]
            places[f"legs.{name}"] = last.frame.spot(last.node.extent)
            places |= read.places
    scope.book.element = ""
    return found, places


def _ask_whether_twice(name: LegName | None, said: Said, before: list[Said], scope: Scope) -> None:
    """Note a second block of one leg; one for both legs may stand beside one for each."""
    is_both = said.node.has("BOTH")
    twin = any(b.frame is said.frame and b.node.has("BOTH") == is_both for b in before)
    is_told = is_both and name == "b"
    if name is None or is_told or not twin:
        return
    words = "both legs" if is_both else "face" if name == "face" else f"leg {name}"
    scope.book.element = f"legs.{name}"
    message = f"`{words}` is given twice: put all of it into one block."
    scope.book.say("given-twice", message, said.node.extent)
    scope.book.element = ""


def _names(block: Node, scope: Scope) -> tuple[LegName | None, ...]:
    """Return the legs of a block; one that the section does not have is noted."""
    is_both = block.has("BOTH")
    if block.name == "leg" and not is_both and block.word("A", "B") is None:
        return (None,)
    name: LegName = "face" if block.name == "face" else "b" if block.has("B") else "a"
    if scope.is_flat is not None and scope.is_flat != (name == "face"):
        what = "two legs" if is_both else f"leg {name}"
        message = (
            f"A flat has no {what}: write `face {{ }}`."
            if scope.is_flat
            else "An angle has no face: write `leg a { }` or `leg b { }`."
        )
        scope.book.say(SYNTAX, message, block.children[0].extent)
    return ("a", "b") if is_both else (name,)
