"""What several tests need: a real browser, a PDF made into pictures, the reference folder. Absent means skipped."""

import importlib.util
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

import trust
from fluewright import words
from fluewright.rules import currency
from postgres import new_place, on_postgres, on_sqlite, postgres

__all__ = ["new_place", "on_postgres", "on_sqlite", "postgres"]

ROOT = Path(__file__).resolve().parent.parent

# The same examples each time, so that a run says something about a change. To look for new ones:
# python -m pytest --hypothesis-profile=explore
settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("explore", deadline=None, max_examples=1000)
settings.load_profile("same")


@pytest.fixture
def standing(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if the texts read were those in force, for tests of what keeps a limit that could clear from clearing."""
    monkeypatch.setattr(currency, "stands", lambda current: True)


@pytest.fixture(scope="session")
def compiled() -> None:
    """The catalogs compiled from their source, as the build does it."""
    spec = importlib.util.spec_from_file_location("hatch_build", ROOT / "hatch_build.py")
    assert spec is not None
    assert spec.loader is not None
    build = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(build)
    build.catalogs()
    words._language.cache_clear()


@pytest.fixture
def german(compiled: None) -> Iterator[None]:
    """Everything said in this test is German."""
    with words.speaking("de"):
        yield


@pytest.fixture(scope="session")
def root() -> Path:
    """The folder of the project."""
    return ROOT


@pytest.fixture(scope="session")
def shared() -> Path:
    """The folder of reference data that lies beside the project and is never committed."""
    folder = ROOT.parent / "shared"
    if not (folder / "reference").is_dir():
        pytest.skip("the reference folder ../shared is not here")
    return folder


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    """A headless Chromium of the system, driven by playwright; gone with its module: its loop runs in this thread."""
    found = shutil.which("chromium")
    if found is None or subprocess.run([found, "--version"], capture_output=True, check=False).returncode:
        pytest.skip("no Chromium here that starts (on Debian: apt-get install chromium)")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=found, args=["--no-sandbox", "--disable-dev-shm-usage"])
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def pages_of() -> Callable[[Path, Path], list[Path]]:
    """A function that turns a PDF into PNG pages in a folder: pages_of(pdf, folder)."""
    found = shutil.which("pdftoppm")
    if found is None:
        pytest.skip("no pdftoppm here (on Debian: apt-get install poppler-utils)")

    def pages(pdf: Path, folder: Path) -> list[Path]:
        subprocess.run([found, "-r", "80", "-png", str(pdf), str(folder / pdf.stem)], check=True)
        return sorted(folder.glob(f"{pdf.stem}-*.png"))

    return pages


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """The counts of the trust tests, as one table at the end."""
    lines = trust.table()
    if lines:
        terminalreporter.section("trust tests: what was tried, and what was lost")
        for line in lines:
            terminalreporter.line(line)
