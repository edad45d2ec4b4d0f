"""Names of the machine document, for its loader and its schema."""

from typing import Final

FORMAT: Final = "backmark/machine"
"""Stands in the field ``format`` of every machine profile."""

MAJOR: Final = 1
"""Changes when a reader written for the old form would misread the new one."""

VERSION: Final = f"{MAJOR}.0"
"""Stands in the field ``version``; the number behind the point counts added fields."""
