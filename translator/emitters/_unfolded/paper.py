"""Papers, frames and scales of a sheet."""

from typing import Final

from msgspec import Struct

from translator.emitters.dxf._entities import Box

MARGIN_MM: Final = 10.0
FILING_MARGIN_MM: Final = 20.0
"""Frame of a sheet after ISO 5457: 20 mm at the left, 10 mm else."""

LETTER_MM: Final = 2.5
"""Letter height on paper, the least usual one of ISO 3098."""

WORDS_MM: Final = 1.8
"""Letter height of notes, schedule and title block."""

METRIC_SCALES: Final = (
    *(1.0, 2.0, 2.5, 5.0, 10.0, 15.0, 20.0, 25.0, 50.0, 100.0),
    *(200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0),
)
"""Millimetres of the piece for one of paper: ISO 5455, with its steps in between."""

INCH_SCALES: Final = (
    *(1.0, 2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 32.0, 48.0, 64.0, 96.0, 128.0),
    *(192.0, 384.0, 768.0, 1536.0, 3072.0, 6144.0, 12288.0),
)
"""The same of an inch drawing: full, half and quarter size, 1-1/2 in. to the foot, 1 in. and on."""


class Paper(Struct, frozen=True, kw_only=True):
    """A sheet of paper that lies broad side down.

    Attributes:
        name: as a person orders it.
        width_mm: of the broad side.
        height_mm: of the other.
    """

    name: str
    width_mm: float
    height_mm: float

    @property
    def frame(self) -> Box:
        """The drawn frame; the paper's lower left corner is the origin."""
        right, top = self.width_mm - MARGIN_MM, self.height_mm - MARGIN_MM
        return Box(FILING_MARGIN_MM, MARGIN_MM, right, top)


A4: Final = Paper(name="A4", width_mm=297.0, height_mm=210.0)
A3: Final = Paper(name="A3", width_mm=420.0, height_mm=297.0)
LETTER: Final = Paper(name="letter", width_mm=279.4, height_mm=215.9)
TABLOID: Final = Paper(name="tabloid", width_mm=431.8, height_mm=279.4)

PAPERS: Final = (A4, A3, LETTER, TABLOID)
METRIC_PAPERS: Final = (A4, A3)
INCH_PAPERS: Final = (LETTER, TABLOID)
"""Papers to try in turn when none is asked for."""
