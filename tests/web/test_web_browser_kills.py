"""kill -9 of the browser at random in a visit: nothing acknowledged is lost, and the page says how far the record goes.

FLUEWRIGHT_BROWSER_KILLS says how often; 10 times where nobody says. What stands on the line and was not sent may be
gone: nothing on the page ever called it kept.
"""

import os
import random
import signal
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hands_kit import DOOR, Door
from pages_kit import TOKEN

import trust
from fluewright.visit import kept

pytestmark = pytest.mark.browser
KILLS = int(os.environ.get("FLUEWRIGHT_BROWSER_KILLS", "10"))
SEED = 20261125
LATEST = 1.6
"""Seconds after the page is there within which the browser is killed; a line takes about half a second."""


@pytest.fixture
def door(tmp_path: Path) -> Iterator[Door]:
    found = Door(tmp_path)
    yield found
    found.shut()


class Killed:
    """A browser with a profile of its own, that can be killed with all its processes and opened again."""

    def __init__(self, chromium: Any, profile: Path) -> None:
        self.kind, self.profile = chromium.browser_type, profile

    def open(self) -> Any:
        self.context = self.kind.launch_persistent_context(
            str(self.profile), executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-dev-shm-usage"],
            viewport={"width": 390, "height": 844},
        )  # fmt: skip
        return self.context.pages[0] if self.context.pages else self.context.new_page()

    def group(self) -> int:
        """The process group of this browser and no other: the one process of this profile that leads a group."""
        told = f"--user-data-dir={self.profile}".encode()
        for each in Path("/proc").iterdir():
            if each.name.isdigit() and each.joinpath("cmdline").exists():
                try:
                    words = each.joinpath("cmdline").read_bytes().split(b"\0")
                except OSError:
                    continue
                own = told in words and not any(word.startswith(b"--type=") for word in words)
                if own and os.getpgid(int(each.name)) == int(each.name) != os.getpgid(0):
                    return int(each.name)
        raise AssertionError("the browser was not found among the processes")


class Journey:
    """Remarks typed into one visit, one after the other, each known by its number."""

    def __init__(self, door: Door, visit: str) -> None:
        self.door, self.visit = door, visit
        self.acknowledged: list[str] = []
        self.again = 0
        self.number = 0

    def go_on(self, tab: Any, killed: threading.Event) -> None:
        """Type and send until the browser dies; only what the page called kept counts as acknowledged."""
        from playwright.sync_api import Error

        try:
            while True:
                words = f"remark {self.number:03}"
                if words not in self.there():
                    tab.fill("#line", "")
                    tab.type("#line", f"note {words}", delay=8)
                    tab.press("#line", "Enter")
                    tab.wait_for_function(
                        "words => (document.querySelector('#said') || {innerText: ''}).innerText.includes(words)",
                        arg=words, timeout=8_000,
                    )  # fmt: skip
                    assert "kept on this machine" in tab.inner_text("#said")
                    self.acknowledged.append(words)
                else:
                    self.again += 1  # it was kept, and the answer died with the browser
                self.number += 1
        except Error as error:
            assert killed.wait(3), error

    def there(self) -> list[str]:
        """The remarks in the journal, in order."""
        found = kept.entries_of(self.door.pages.journal, self.visit)
        return [str(each.body["word"]) for each in found if each.read.entry.kind == "note"]


def test_kill_9_of_the_browser_loses_nothing_acknowledged(door: Door, chromium: Any, tmp_path: Path) -> None:
    chance = random.Random(SEED)
    browser = Killed(chromium, tmp_path / "profile")
    visit = kept.begun(door.pages.journal, DOOR).id
    journey, cut = Journey(door, visit), 0
    tab = browser.open()
    tab.goto(f"{door.here}/open?token={TOKEN}")
    browser.context.close()  # Chromium writes its cookies to the disk half a minute late, or when it is closed
    tab = browser.open()
    for _ in range(KILLS):
        tab.goto(f"{door.here}/visit/{visit}")
        dead, group = threading.Event(), browser.group()

        def kill(group: int = group, dead: threading.Event = dead) -> None:
            os.killpg(group, signal.SIGKILL)
            dead.set()

        timer = threading.Timer(chance.uniform(0.05, LATEST), kill)
        timer.start()
        journey.go_on(tab, dead)
        timer.join()
        time.sleep(0.1)
        tab = browser.open()
        tab.goto(f"{door.here}/visit/{visit}")
        assert "Kept here up to" in tab.inner_text("#work"), "it says how far the record goes"
        cut += 1
        shown = tab.request.get(f"{door.here}/visit/{visit}/entries").text()
        assert [each for each in journey.acknowledged if each not in shown] == []
    browser.context.close()
    there = journey.there()
    lost, twice = set(journey.acknowledged) - set(there), len(there) - len(set(there))
    trust.told(1, "kill -9 of the browser during a visit", acknowledged=len(journey.acknowledged), killed=cut,
               lost=len(lost), kept_unseen=journey.again, kept_twice=twice)  # fmt: skip
    assert not lost and twice == 0 and cut == KILLS
    assert len(journey.acknowledged) >= KILLS // 2
