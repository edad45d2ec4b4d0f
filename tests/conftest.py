"""What holds for all tests."""

import gc
from collections.abc import Iterator

import pytest


@pytest.fixture(autouse=True, scope="module")
def _leave_the_past_alone() -> Iterator[None]:
    """Keep the collector from walking what earlier tests left behind.

    The tests that bound a CPU time would otherwise measure the length of the suite.
    """
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()
