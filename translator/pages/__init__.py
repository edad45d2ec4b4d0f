"""Pages: what draws parts together with what is said about them, for a person to look at.

``review`` writes the page of a delivery, ``inspection`` the sheet of a first piece,
``notebook`` one part for a notebook cell. All three show the same picture of a leg: outside
face, start end left, heel at the bottom on leg a and a flat, at the top on leg b.

Rooms: ``_layout`` fits a piece into the width of a picture, ``_outside`` turns the model's
frame into it, ``_drawing`` draws a leg, ``_balloons`` finds room for the numbers, ``_picture``
is what is drawn, ``_svg`` spells it; ``_words`` says sizes and features; ``_html`` is the frame
of a page. The scripts and styles are files of their own in ``data``.
"""
