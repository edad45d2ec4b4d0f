"""What a picture is made of: a few kinds of marks in units of the picture, y downwards.

The same value is spelled as SVG text here (``_svg``) and as JSON for the script of a page.
"""

from typing import Any, Final, Literal, NamedTuple

from msgspec import Struct

Anchor = Literal["start", "middle", "end"]

_DECIMALS: Final = 2


class Shape(NamedTuple):
    """A path; ``tag`` is the id of the feature it shows, or the numbers a ring belongs to."""

    kind: str
    path: str
    tag: str = ""


class Disc(NamedTuple):
    """A circle; ``tag`` as for a shape."""

    kind: str
    x: float
    y: float
    radius: float
    tag: str = ""


class Words(NamedTuple):
    """One line of text on its baseline; ``turn`` is clockwise in degrees."""

    kind: str
    x: float
    y: float
    text: str
    anchor: Anchor = "start"
    size: float = 12.0
    turn: float = 0.0


class Balloon(NamedTuple):
    """A numbered balloon around its middle and the line that leads from it to a place."""

    kind: str
    x: float
    y: float
    width: float
    text: str
    to_x: float
    to_y: float
    tag: str = ""


class Pane(NamedTuple):
    """A window onto a drawing: what lies outside of it is not seen."""

    x: float
    y: float
    width: float
    height: float
    left: float
    top: float
    items: tuple["Item", ...]


Item = Shape | Disc | Words | Balloon | Pane


class Picture(Struct, frozen=True, kw_only=True):
    """A picture.

    Attributes:
        width, height: of the whole, in units (at full size one unit is one CSS pixel).
        title: what it shows, for a reader who can't see it.
        items: what is drawn, the lowest first.
    """

    width: float
    height: float
    title: str
    items: tuple[Item, ...]


def number(value: float) -> str:
    """Spell a place of a picture: two decimals at most, no trailing zeros, never -0."""
    text = f"{value:.{_DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def document(picture: Picture) -> dict[str, Any]:
    """Return a picture as dictionaries and lists, for JSON."""
    return {
        "width": _short(picture.width),
        "height": _short(picture.height),
        "title": picture.title,
        "items": [_listed(item) for item in picture.items],
    }


_LETTERS: Final = {Shape: "s", Disc: "d", Words: "w", Balloon: "b", Pane: "p"}


def _listed(item: Item) -> list[Any]:
    """Return an item as a list: the letter of its kind, then its fields in order."""
    return [_LETTERS[type(item)], *(_field(value) for value in item)]


def _field(value: Any) -> Any:  # noqa: ANN401 - a field of any kind of item
    if isinstance(value, float):
        return _short(value)
    if isinstance(value, tuple):
        return [_listed(item) for item in value]
    return value


def _short(value: float) -> float | int:
    short = round(value, _DECIMALS) + 0.0
    return int(short) if short.is_integer() else short
