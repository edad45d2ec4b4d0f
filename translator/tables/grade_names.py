"""Names of steel grades as people write them."""

import re
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.lengths.characters import HYPHENS, shown
from translator.tables.published import table

_LONGEST: Final = 60
_HYPHENS: Final = str.maketrans(dict.fromkeys(HYPHENS, "-"))
# Not compiled here: most files name few grades, and a start is dear.
_ASTM: Final = (
    r"(?:ASTM[ -]*)?A[ -]?(?P<digits>[0-9]{2,3})"
    r"(?:[ /-]*(?:A?[ -]?(?P=digits))?M)?"  # the metric twin, as in A36/A36M
    r"[ /.(-]*(?:GRADE|GR|TYPE|G)?[ .-]*(?P<grade>[0-9]{2,3}W?|[ABCK])?\)?"
    r"(?:-?[TF][123])?"  # toughness zone of A709
)
_STANDARD: Final = r"\b(?:(?:BS|DIN|NF)[ -]*)?EN[ -]*10025(?:-[1-6])?(?:[:-][0-9]{4})?(?![0-9])"
_EN: Final = (
    r"(?P<key>S[0-9]{3})"
    r"(?:(?P<quality>[JK][RO0-9])(?:G[1-4])?C?(?P<bare>AR|N|M)?)?"
    r"(?P<treatment>(?:\+[A-Z]{1,2}[0-9]{0,2})*)"
)


class Named(Struct, frozen=True, kw_only=True):
    """What a text names: a grade's ``key`` and full ``name``, or a ``fault``."""

    key: str = ""
    name: str = ""
    note: str | None = None
    fault: str | None = None


def read_name(text: str, known: Mapping[str, tuple[str, ...]]) -> Named:
    """Read the name of a grade.

    Args:
        text: as typed.
        known: the grades' keys, each with its qualities; none for ASTM.
    """
    plain = " ".join(text.upper().translate(_HYPHENS).split())
    if not plain:
        return Named(fault="The grade is blank.")
    if len(plain) > _LONGEST:
        return Named(fault=f"{shown(text)} is not the name of a grade.")
    other = _other_name(plain)
    found = _american(other or plain, known) or _european(other or plain, known)
    if found is None:
        return Named(fault=_fault(text, plain, known))
    if other is None:
        return found
    note = f"{shown(text)} is read as {found.name} (from memory)."
    return Named(key=found.key, name=found.name, note=note)


def _american(plain: str, known: Mapping[str, tuple[str, ...]]) -> Named | None:
    name = _astm_name(plain)
    return Named(key=name, name=name) if name in known and not known[name] else None


def _astm_name(plain: str) -> str:
    """Return an ASTM name in the table's spelling, "" if it is none.

    ``ASTM A572/A572M GR. 50`` is A572-50. A588 has types of one strength.
    """
    found = re.fullmatch(_ASTM, plain)
    if found is None:
        return ""
    name, grade = f"A{found['digits']}", found["grade"] or ""
    if not grade or (name == "A588" and grade.isalpha()):
        return name
    return f"{name}-{grade}"


def _european(plain: str, known: Mapping[str, tuple[str, ...]]) -> Named | None:
    bare = re.sub("[ -]", "", re.sub(_STANDARD, "", plain)).strip(":,")
    found = re.fullmatch(_EN, bare)
    if found is None or not known.get(found["key"]):
        return None
    quality = (found["quality"] or "").replace("JO", "J0")
    if quality and quality not in known[found["key"]]:
        return None
    treatment = f"+{found['bare']}" if found["bare"] else ""
    name = found["key"] + quality + treatment + found["treatment"]
    return Named(key=found["key"], name=name)


def _fault(text: str, plain: str, known: Mapping[str, tuple[str, ...]]) -> str:
    name = _astm_name(plain)
    grades = [key for key in known if name and key.startswith(f"{name}-")]
    if len(grades) > 1:
        return f"{shown(text)} does not say its grade: {', '.join(grades[:-1])} or {grades[-1]}."
    return f"{shown(text)} is not in the tables of grades."


def _other_name(plain: str) -> str | None:
    """Return the table's name of an older or other name, None if it is none."""
    names = _other_names()
    return names.get(_astm_name(plain)) or names.get(plain.replace(" ", ""))


@cache
def _other_names() -> Mapping[str, str]:
    rows = table("grade_names.csv")
    return MappingProxyType({row["name"]: row["grade"] for row in rows})
