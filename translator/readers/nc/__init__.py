"""Detailer files of the trade's open NC standard (7th edition, 1998): angles and flats.

Bytes to a raw tree, the tree to evidence on what the standard leaves open, and, under settled
conventions, to a part. Each step is loaded when it is first taken: a run that meets no such file
need not know how to read one.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from translator.conventions import Conventions, Evidence
from translator.readers._reader import Reader, Reading
from translator.source import Source

if TYPE_CHECKING:
    from translator.readers.nc._book import Fate
    from translator.readers.nc._tree import Tree

__all__ = ["READER", "account", "evidence", "lower", "parse"]


def parse(source: Source) -> "Tree":
    """Sort the lines of a file by what they are; see ``_parse``."""
    from translator.readers.nc import _parse

    return _parse.parse(source)


def evidence(tree: "Tree") -> Evidence:
    """Return what a tree says about open conventions; see ``_evidence``."""
    from translator.readers.nc import _evidence

    return _evidence.evidence(tree)


def lower(tree: "Tree", conventions: Conventions) -> Reading:
    """Return the parts of a tree under settled conventions; see ``_lower``."""
    from translator.readers.nc import _lower

    return _lower.lower(tree, conventions)


def account(tree: "Tree", conventions: Conventions) -> "Mapping[int, Fate]":
    """Tell of each line whether it was translated, carried or reported; see ``_lower``."""
    from translator.readers.nc import _lower

    return _lower.account(tree, conventions)


READER: Final = Reader(
    name="nc",
    title="NC part file (DSTV, 7th edition)",
    pattern=r".*\.nc\d?",
    ending=".nc1",
    parse=parse,
    evidence=evidence,
    lower=lower,
    leaves_open=True,
)
