"""Sheets on paper: both legs unfolded along the heel, with frame, title block and key plan.

``sheet`` chooses paper, scale and breaks and puts the sheet together as the entities of
``emitters.dxf``, in mm of paper; ``svg`` and ``pdf`` write such entities. A sheet is a picture
to read; the leg drawings are what is measured.
"""
