"""A picture as SVG text."""

from collections.abc import Iterator

from translator.pages._html import escaped
from translator.pages._picture import Balloon, Disc, Item, Pane, Picture, Shape, Words, number

BALLOON_HEIGHT = 20.0


def svg(picture: Picture, *, style: str = "") -> str:
    """Return a picture as one ``svg`` element.

    Args:
        picture: what to draw; its texts may hold any character.
        style: a style sheet to put into it, for a picture that stands alone.
    """
    width, height = number(picture.width), number(picture.height)
    sheet = f"<style>{style}</style>" if style else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="picture" role="img"'
        f' viewBox="0 0 {width} {height}" width="{width}" height="{height}"'
        f' aria-label="{escaped(picture.title)}">{sheet}'
        f"{''.join(_spelled(item) for item in picture.items)}</svg>"
    )


def _spelled(item: Item) -> str:
    match item:
        case Shape():
            return f'<path class="{item.kind}" d="{item.path}"/>'
        case Disc():
            place = f'cx="{number(item.x)}" cy="{number(item.y)}" r="{number(item.radius)}"'
            return f'<circle class="{item.kind}" {place}/>'
        case Words():
            return _words(item)
        case Balloon():
            return "".join(_balloon(item))
        case Pane():
            box = f"{number(item.left)} {number(item.top)} {number(item.width)}"
            return (
                f'<svg x="{number(item.x)}" y="{number(item.y)}" width="{number(item.width)}"'
                f' height="{number(item.height)}" viewBox="{box} {number(item.height)}">'
                f"{''.join(_spelled(inner) for inner in item.items)}</svg>"
            )


def _words(item: Words) -> str:
    x, y = number(item.x), number(item.y)
    turn = f' transform="rotate({number(item.turn)} {x} {y})"' if item.turn else ""
    return (
        f'<text class="{item.kind}" x="{x}" y="{y}" font-size="{number(item.size)}"'
        f' text-anchor="{item.anchor}"{turn}>{escaped(item.text)}</text>'
    )


def _balloon(item: Balloon) -> Iterator[str]:
    x, y = number(item.x), number(item.y)
    yield f'<path class="leader" d="M{x} {y}L{number(item.to_x)} {number(item.to_y)}"/>'
    yield f'<circle class="foot" cx="{number(item.to_x)}" cy="{number(item.to_y)}" r="2"/>'
    left, top = item.x - item.width / 2.0, item.y - BALLOON_HEIGHT / 2.0
    rounding = "2" if item.kind.endswith("error") else number(BALLOON_HEIGHT / 2.0)
    yield (
        f'<rect class="{item.kind}" x="{number(left)}" y="{number(top)}"'
        f' width="{number(item.width)}" height="{number(BALLOON_HEIGHT)}" rx="{rounding}"/>'
    )
    yield (
        f'<text class="{item.kind}-text" x="{x}" y="{number(item.y + 4.2)}" font-size="12"'
        f' text-anchor="middle">{escaped(item.text)}</text>'
    )
