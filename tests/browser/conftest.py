"""A headless browser for the tests of the pages.

Where none is found the tests are skipped, each counted; with BACKMARK_BROWSER=required, as the
gate sets it, they fail instead.
"""

import os
import shutil
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

NAMES = ("chromium", "chromium-browser")


def _missing(what):
    if os.environ.get("BACKMARK_BROWSER") == "required":
        pytest.fail(f"the pages can't be tried: {what}")
    pytest.skip(f"the pages are not tried in a browser: {what}")


@pytest.fixture(scope="session")
def chromium():
    path = next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        _missing("there is no chromium on the path")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        _missing("the extra 'browser' is not installed")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, headless=True, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def opened(chromium):
    """Return a function that opens a file; at the end nothing may have gone wrong in it.

    That is: no error or warning on the console, no exception, nothing asked of a network or of
    another file.
    """
    said, asked, contexts = [], [], []

    def start(path, **options):
        context = chromium.new_context(**{"viewport": {"width": 1280, "height": 900}, **options})
        contexts.append(context)
        page = context.new_page()
        page.on(
            "console", lambda m: said.append(m.text) if m.type in ("error", "warning") else None
        )
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on("dialog", lambda dialog: (said.append(dialog.message), dialog.dismiss()))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(path.resolve().as_uri())
        return page

    yield start
    for context in contexts:
        context.close()
    assert said == []
    # A page is one request: its own.
    assert len(asked) == len(contexts)
    assert all(url.startswith("file:///") for url in asked)
