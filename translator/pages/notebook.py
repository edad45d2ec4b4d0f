"""One part in a notebook cell: ``picture(part)`` as the last line draws both legs."""

from msgspec import Struct

from translator.model import Part, leg_names
from translator.pages._html import asset
from translator.pages._layout import lay_out
from translator.pages._legs import leg_picture
from translator.pages._picture import Item, Pane, Picture, Words
from translator.pages._svg import svg
from translator.pages._words import leg_words, named_length, section_words

_HEAD = 30.0
_CAPTION = 22.0
_GAP = 12.0


class PartPicture(Struct, frozen=True, kw_only=True):
    """A part that shows itself where notebooks ask for a picture; it is data apart from that."""

    part: Part

    def _repr_svg_(self) -> str:
        """Return the picture as SVG text; notebooks call this."""
        return svg(drawn(self.part), style=asset("picture.css"))


def picture(part: Part) -> PartPicture:
    """Return a part so that it draws itself in a notebook.

    The model is data only and can't draw; in a cell write::

        from translator.pages.notebook import picture
        picture(part)
    """
    return PartPicture(part=part)


def drawn(part: Part) -> Picture:
    """Return one picture of all legs, leg a above leg b, as the unfolded angle lies."""
    layout = lay_out(part)
    legs = [(leg, leg_picture(part, leg, layout)) for leg in leg_names(part)]
    head = f"{part.mark}  {section_words(part)}  {named_length(part.length_mm, part)} long"
    items: list[Item] = [Words("head", 8.0, 19.0, head, "start", 14.0)]
    y = _HEAD
    for leg, own in legs:
        caption = f"{leg_words(leg)}, outside face, start end left"
        items.append(Words("edge", 8.0, y + 12.0, caption, "start", 11.0))
        y += _CAPTION
        items.append(Pane(0.0, y, own.width, own.height, 0.0, 0.0, own.items))
        y += own.height + _GAP
    title = " ".join((head, *(own.title for _, own in legs)))
    return Picture(width=legs[0][1].width, height=y, title=title, items=tuple(items))
