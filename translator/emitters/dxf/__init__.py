"""Leg drawings: one DXF (release R2010) for each leg, 1:1, seen from outside.

The fixed head and tail of the file are ``template.dxf``, made once by ``_make_template.py`` and
committed; the leg's own entities are written here, with handles that count up from a fixed
number. The library that made the template is not loaded. The layers are listed in
``_layers.py``. A part that was designed in inches is drawn in inches (``$INSUNITS`` 1), any
other in millimetres (``$INSUNITS`` 4). Texts are single lines in UTF-8.

Rooms: ``_view`` turns the model's frame into the outside view, ``_lines`` draws the leg
(``_clip`` ends its helping lines where the steel ends), ``_features`` what is made on it,
``_schedule`` and ``_sheet`` the words; ``_entities`` and ``_text`` spell everything, and
``_drawing`` puts it together.
"""

from typing import Final

from translator.emitters._emitter import Emitter
from translator.emitters.dxf._drawing import emit, losses

EMITTER: Final = Emitter(
    name="dxf",
    title="leg drawings, one for each leg (DXF R2010, 1:1)",
    suffix=".dxf",
    per_leg=True,
    media_type="image/vnd.dxf",
    emit=emit,
    losses=losses,
)
