"""The fingerprint of a part: what a plan keeps of it, to know it again."""

import hashlib

from translator.model import Part

_BEYOND = frozenset({"quantity", "waivers", "remarks", "carried"})
"""What may change without a piece coming out otherwise."""


def fingerprint(part: Part) -> str:
    """Return the SHA-256 of everything that makes a piece what it is, in hexadecimal.

    The quantity is no part of it, nor are waivers, remarks and carried lines: the same piece may
    be asked for again.
    """
    text = part.model_dump_json(exclude=set(_BEYOND))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
