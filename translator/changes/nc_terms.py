"""What files of the detailer format have no words for, and so can't have changed."""

from collections.abc import Iterator
from typing import Final

from translator.model import Angle, Feature, Hole, Part, Scribe, Slot, Stamp, leg_names, leg_of

NOT_COMPARED: Final = (
    "bolts, purposes and processes of holes, scribed lines, finish, revision, lot, second work,"
    " waivers and carried lines"
)
"""What a person is told is not compared where one side is such a file and the other is not."""

_REMARKS: Final = 3
_UNSAID: Final = {
    "revision": None,
    "lot": None,
    "finish": None,
    "second_work": (),
    "waivers": (),
    "carried": (),
    "stated": None,
}


def in_nc_terms(part: Part) -> Part:
    """Return a part with only what a file of the detailer format can say of it."""
    legs: dict[str, object] = {
        leg: leg_of(part, leg).model_copy(
            update={"features": tuple(_features(leg_of(part, leg).features))}
        )
        for leg in leg_names(part)
    }
    fields: dict[str, object] = dict(_UNSAID)
    fields["legs"] = part.legs.model_copy(update=legs)
    fields["remarks"] = part.remarks[:_REMARKS]
    if isinstance(part.section, Angle):
        fields["section"] = part.section.model_copy(update={"toe_radius_mm": 0.0})
    return part.model_copy(update=fields)


def _features(features: tuple[Feature, ...]) -> Iterator[Feature]:
    for feature in features:
        if isinstance(feature, Scribe) and feature.method == "scribe":
            continue
        yield _in_nc_terms(feature)


def _in_nc_terms(feature: Feature) -> Feature:
    if isinstance(feature, Hole | Slot):
        update: dict[str, object] = {"bolt": None, "purpose": None, "process": None}
        if isinstance(feature, Hole):
            update["countersink_angle_deg"] = None
        return feature.model_copy(update=update)
    if isinstance(feature, Stamp):
        text = None if feature.text is None else feature.text.strip()
        return feature.model_copy(update={"may_move": False, "text": text})
    return feature
