"""Decisions on parts that are kept beside them: waivers and substitutions of a side file."""

from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from translator.source import Span

if TYPE_CHECKING:
    from translator.model import Waiver

SubstitutedField = Literal["section", "grade"]


class SideWaiver(Struct, frozen=True, kw_only=True):
    """A waiver for the part of a mark.

    Attributes:
        mark: piece mark it is for.
        order: order of the part; None for a part of any order.
        waiver: what it accepts; its feature is None where ``counted`` tells it.
        counted: kind and number of the feature on its leg, from 1 ("hole", 3).
        span: where it stands.
    """

    mark: str
    order: str | None
    waiver: "Waiver"
    counted: tuple[str, int] | None
    span: Span


class Substitution(Struct, frozen=True, kw_only=True):
    """One section or grade taken for another, on record.

    Attributes:
        mark: piece mark it is for.
        order: order of the part; None for a part of any order.
        field: what is substituted.
        old: what the design says, as typed.
        new: what the part says once it is done, as typed.
        reason: why.
        by: who decided; None when not said.
        span: where it stands.
    """

    mark: str
    order: str | None
    field: SubstitutedField
    old: str
    new: str
    reason: str
    by: str | None
    span: Span


class Decisions(Struct, frozen=True, kw_only=True, eq=False):
    """What one side file decides. Two of them are never equal: each is a file of its own.

    Attributes:
        path: of the file.
        waivers: in the file's order.
        substitutions: in the file's order.
        is_whole: whether all parts that come under the file are looked at; only then can a
            mark be called unknown.
    """

    path: str
    waivers: tuple[SideWaiver, ...] = ()
    substitutions: tuple[Substitution, ...] = ()
    is_whole: bool = False
