"""The part: everything that was designed about one piece mark."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from translator.model.ends import AngleEnds, FlatEnds
from translator.model.features import MOST_POINTS, Feature, Identifier, Opening, Scribe
from translator.model.numbers import Frozen, Mm, OffsetMm, SizeMm, Text
from translator.model.sections import Flat, Section
from translator.model.trims import OutlineTrim, Trim

LegName = Literal["a", "b", "face"]


class Leg(Frozen):
    """What is made on one leg: features by order, and trims of its outline."""

    features: Annotated[tuple[Feature, ...], Field(max_length=20_000)] = ()
    trims: Annotated[tuple[Trim, ...], Field(max_length=100)] = ()


class AngleLegs(Frozen):
    """The two legs of an angle."""

    a: Leg = Leg()
    b: Leg = Leg()


class FlatLegs(Frozen):
    """The one face of a flat."""

    face: Leg = Leg()


class Stated(Frozen):
    """Figures the source states about the piece and geometry can check; never used for it."""

    mass_per_metre_kg: OffsetMm | None = None
    paint_area_per_metre_m2: OffsetMm | None = None
    saw_length_mm: SizeMm | None = None


class Waiver(Frozen):
    """A finding accepted beforehand, at one place and up to one value.

    ``leg`` and ``feature`` None mean the part as a whole. ``value`` is in the unit of the
    rule's own figure, millimetres for lengths; None accepts whatever the figure is.
    """

    rule: Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
    leg: LegName | None = None
    feature: Identifier | None = None
    value: Mm | None = None
    reason: Annotated[Text, Field(min_length=1)]
    by: Text | None = None
    until_revision: Text | None = None
    until_date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")] | None = None


class Part(Frozen):
    """One piece mark. The key of a part is its order and mark."""

    mark: Annotated[Text, Field(min_length=1, max_length=200)]
    quantity: Annotated[int, Field(ge=1, le=1_000_000)] = 1
    grade: Text | None = None
    length_mm: SizeMm
    section: Section
    legs: AngleLegs | FlatLegs
    ends: AngleEnds | FlatEnds
    title: Text | None = None
    order: Text | None = None
    drawing: Text | None = None
    revision: Text | None = None
    phase: Text | None = None
    lot: Text | None = None
    finish: Text | None = None
    remarks: tuple[Text, ...] = ()
    second_work: tuple[Text, ...] = ()
    units: Literal["mm", "inch"] = "mm"
    stated: Stated | None = None
    waivers: tuple[Waiver, ...] = ()
    carried: Annotated[tuple[Text, ...], Field(max_length=20_000)] = ()

    @model_validator(mode="after")
    def _one_shape(self) -> "Part":
        flat = isinstance(self.section, Flat)
        if flat != isinstance(self.legs, FlatLegs):
            raise ValueError("a flat has the one leg 'face', an angle the legs 'a' and 'b'")
        if flat != isinstance(self.ends, FlatEnds):
            raise ValueError("a flat's ends say face_deg, an angle's leg_a_deg and leg_b_deg")
        seen: set[str] = set()
        for name in leg_names(self):
            leg = leg_of(self, name)
            for feature in leg.features:
                if feature.id in seen:
                    raise ValueError(f"two features have the id {feature.id!r}")
                seen.add(feature.id)
            for trim in leg.trims:
                if isinstance(trim, OutlineTrim):
                    continue
                if flat != (trim.side in ("lower", "upper")):
                    raise ValueError(
                        f"side {trim.side!r} of a {trim.kind}: an angle's leg has the sides"
                        " 'heel' and 'toe', a flat 'lower' and 'upper'"
                    )
        return self

    @model_validator(mode="after")
    def _few_points(self) -> "Part":
        legs = [leg_of(self, name) for name in leg_names(self)]
        count = sum(
            len(own.line if isinstance(own, Scribe) else own.contour)
            for leg in legs
            for own in (*leg.features, *leg.trims)
            if isinstance(own, Opening | Scribe | OutlineTrim)
        )
        if count > MOST_POINTS:
            raise ValueError(
                f"its contours and lines have {count} corners, more than the {MOST_POINTS} that"
                " a part may have"
            )
        return self


def leg_names(part: Part) -> tuple[LegName, ...]:
    """Return the part's legs in order: ("a", "b"), or ("face",) for a flat."""
    return ("face",) if isinstance(part.section, Flat) else ("a", "b")


def leg_of(part: Part, name: LegName) -> Leg:
    """Return the leg of that name."""
    legs = part.legs
    if isinstance(legs, FlatLegs):
        return legs.face
    return legs.a if name == "a" else legs.b


def feature_path(leg: str, feature_id: str) -> str:
    """Return the element path of a feature, the key of its place and of its findings."""
    return f"legs.{leg}.{feature_id}"


def derived_id(leg: LegName, number: int) -> str:
    """Return the id of a feature whose spelling has none: the leg's letter and its number.

    Features count from 1 in their order on the leg: a1, a2, b1, and f1 on the face of a flat.
    """
    return f"{leg[0]}{number}"


def trim_path(leg: str, index: int) -> str:
    """Return the element path of a leg's trim, counted from 0."""
    return f"legs.{leg}.trims.{index}"
