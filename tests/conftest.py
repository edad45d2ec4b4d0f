"""What holds for all tests."""

import gc
import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

# How long one example takes on the clock is the machine's affair; what must be fast is bound in
# CPU time by tests of its own.
settings.register_profile("backmark", deadline=None)
settings.load_profile("backmark")


@pytest.fixture(autouse=True, scope="session")
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep what tests find out of the person's own cache, and the other way round."""
    before = os.environ.get("BACKMARK_CACHE")
    os.environ["BACKMARK_CACHE"] = os.fspath(tmp_path_factory.mktemp("cache"))
    yield
    os.environ.pop("BACKMARK_CACHE")
    if before is not None:
        os.environ["BACKMARK_CACHE"] = before


def pytest_collection_finish() -> None:
    """Take thousands of collected tests out of what the collector walks."""
    gc.collect()
    gc.freeze()


@pytest.fixture(autouse=True, scope="module")
def _leave_the_past_alone() -> None:
    """Keep the collector from walking what earlier tests left behind.

    The tests that bound a CPU time would otherwise measure the length of the suite.
    """
    gc.collect()
    gc.freeze()
