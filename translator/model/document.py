"""Names of the interchange document, for its reader, its emitter and its schema."""

from typing import Final

FORMAT: Final = "backmark/part"
"""Stands in the field ``format`` of every part document."""

MAJOR: Final = 1
"""Changes when a reader written for the old form would misread the new one."""

VERSION: Final = f"{MAJOR}.0"
"""Stands in the field ``version``; the number behind the point counts added fields."""
