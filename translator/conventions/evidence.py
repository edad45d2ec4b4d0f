"""What one file says about the open conventions of its writer."""

from enum import StrEnum

from msgspec import Struct

from translator.source import Span


class Weight(StrEnum):
    """How much a testimony weighs."""

    PROOF = "proof"
    NEAR_PROOF = "near-proof"
    HINT = "hint"


class Testimony(Struct, frozen=True, kw_only=True):
    """One observation that speaks for one value of one setting.

    Attributes:
        setting: field of ``Conventions``.
        value: the value it speaks for.
        weight: proof, near-proof or hint.
        message: a sentence on what was seen.
        span: where.
    """

    setting: str
    value: str
    weight: Weight
    message: str
    span: Span


class Evidence(Struct, frozen=True, kw_only=True):
    """All testimonies of one file.

    Attributes:
        writer: fingerprint of the program that wrote the file; files with the same one are
            pooled.
        piece: what makes testimonies independent: a digest of the piece's geometry, so that
            copies of one piece count once.
        path: the file.
        testimonies: the observations.
        undecided: settings that this file's part depends on.
    """

    writer: str
    piece: str
    path: str
    testimonies: tuple[Testimony, ...] = ()
    undecided: tuple[str, ...] = ()
