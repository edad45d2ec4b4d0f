"""Detailer files of the trade's open NC standard (7th edition, 1998): angles and flats.

Bytes to a raw tree, the tree to evidence on what the standard leaves open, and, under settled
conventions, to a part.
"""

from typing import Final

from translator.readers._reader import Reader
from translator.readers.nc._book import Fate
from translator.readers.nc._evidence import evidence
from translator.readers.nc._lower import account, lower
from translator.readers.nc._parse import parse
from translator.readers.nc._tree import Tree

__all__ = ["READER", "Fate", "Tree", "account", "evidence", "lower", "parse"]

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
