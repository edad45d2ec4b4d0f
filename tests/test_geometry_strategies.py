"""The random parts themselves: sound, and of every kind."""

from hypothesis import HealthCheck, given, settings
from strategies import parts, sections

from translator.geometry.contours import area, crosses_itself
from translator.geometry.outline import leg_outline
from translator.model import leg_names


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_random_parts_have_sound_outlines(part):
    for leg in leg_names(part):
        outline = leg_outline(part, leg)
        assert not outline.faults
        assert area(outline.contour) > 0
        assert not crosses_itself(outline.contour)


@settings(max_examples=10, deadline=None)
@given(parts(nc=True))
def test_parts_for_nc_files_lie_on_hundredths(part):
    assert abs(part.length_mm * 100 - round(part.length_mm * 100)) < 1e-6


@settings(max_examples=10, deadline=None)
@given(sections())
def test_sections_have_a_thickness(section):
    assert section.thickness_mm > 0
