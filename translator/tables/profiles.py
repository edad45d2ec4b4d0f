"""The words in front of a section's sizes, and what each stands for."""

import re
from types import MappingProxyType
from typing import Final, Literal, NamedTuple

Kind = Literal["angle", "flat"]


class Profile(NamedTuple):
    """What a word in front of the sizes says.

    Attributes:
        kind: angle or flat.
        is_metric: the word belongs to metric tables only, so bare sizes are millimetres.
        legs: "equal" or "unequal" if the word promises it, else "".
    """

    kind: Kind
    is_metric: bool = False
    legs: Literal["equal", "unequal", ""] = ""


PROFILES: Final = MappingProxyType(
    {
        **dict.fromkeys(("l", "angle", "ang", "\u2220", "\u221f"), Profile("angle")),
        "rsa": Profile("angle", is_metric=True),
        **dict.fromkeys(("ea", "rsea"), Profile("angle", is_metric=True, legs="equal")),
        **dict.fromkeys(("ua", "rsua"), Profile("angle", is_metric=True, legs="unequal")),
        **dict.fromkeys(
            ("fl", "fb", "flt", "flat", "flat bar", "bar", "pl", "plt", "plate"), Profile("flat")
        ),
    }
)
"""Words that this tool reads, in small letters."""

OTHERS: Final = MappingProxyType(
    {
        **dict.fromkeys(("w", "wf", "ub", "uc"), "a wide-flange shape"),
        **dict.fromkeys(("s", "i", "m", "ipe", "ipn", "inp"), "an I shape"),
        **dict.fromkeys(("he", "hea", "heb", "hem", "hd", "hp"), "an H shape"),
        **dict.fromkeys(("c", "mc", "u", "upn", "upe", "uap", "unp", "pfc"), "a channel"),
        **dict.fromkeys(("t", "wt", "st", "mt", "tee"), "a tee"),
        **dict.fromkeys(
            ("hss", "ts", "shs", "rhs", "chs", "pipe", "tube", "ro", "rohr"), "a hollow section"
        ),
        **dict.fromkeys(("rod", "round", "rb", "rd", "ru"), "a round bar"),
        **dict.fromkeys(("sq", "square", "sb"), "a square bar"),
        **dict.fromkeys(("ll", "dl", "double angle"), "a pair of angles"),
        **dict.fromkeys(("z",), "a zed"),
    }
)
"""Words of sections that this tool does not make, and what they are."""

_FIRST_SIZE: Final = re.compile(r"[0-9.]")
_PAIR: Final = re.compile(r"[2-9][ x-]*(?:l|angles?)[ -]*[0-9.]")


def is_several(text: str) -> bool:
    """Tell whether a plain text in small letters asks for several angles, as ``2L4x4x3/8``."""
    return _PAIR.match(text) is not None


def split_word(text: str) -> tuple[str, str]:
    """Split a plain text in small letters into the leading word and the sizes behind it."""
    found = _FIRST_SIZE.search(text)
    start = found.start() if found else len(text)
    return " ".join(text[:start].strip(" -_:").split()), text[start:]
