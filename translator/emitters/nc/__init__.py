"""Parts written as NC part files of the trade's open standard (7th edition, 1998).

What the standard leaves open is not guessed: where it would change the part, writing needs the
same named settings as reading, and the file says in comment lines which were used.
"""

from typing import Final

from translator.emitters._emitter import Emitter
from translator.emitters.nc._losses import losses
from translator.emitters.nc._write import emit

__all__ = ["EMITTER", "emit", "losses"]

EMITTER: Final = Emitter(
    name="nc",
    title="NC part file (DSTV, 7th edition)",
    suffix=".nc1",
    per_leg=False,
    media_type="text/plain",
    emit=emit,
    losses=losses,
)
