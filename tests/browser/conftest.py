"""Fixtures for tests in a real browser: lab (JupyterLab opened by the command), sheet (a page on
it). Without a browser they skip; in CI they fail.
"""

import os

import pytest
from harness import NoBrowser, browser, jupyterlab, opened


# Not for the whole session: Playwright keeps an event loop running in this thread, and the tests
# that follow would find themselves in it.
@pytest.fixture(scope="module")
def chromium():
    try:
        with browser() as found:
            yield found
    except NoBrowser as why:
        text = f"not tested in a browser: {why}"
        if os.environ.get("CI", "").lower() not in ("", "0", "false"):
            pytest.fail(text, pytrace=False)
        pytest.skip(text)


@pytest.fixture(scope="module")
def lab(chromium, tmp_path_factory):
    # a blank and letters outside ASCII: a learner's folder may have both
    with jupyterlab(tmp_path_factory.mktemp("browser") / "Stähle und Schlacken") as running:
        yield running


@pytest.fixture
def sheet(chromium, lab):
    with opened(chromium, lab) as page:
        yield page
