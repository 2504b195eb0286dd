"""A hand before the pages in a real browser, every tap and key counted; and a door that can go away and return."""

import threading
from pathlib import Path
from typing import Any

import uvicorn
from pages_kit import TOKEN, Pages

from fluewright.cli.serve import _listening

DOOR: dict[str, Any] = {
    "visit": {
        "title": "Boiler in a cellar that does not exist",
        "date": "2026-11-25",
        "jurisdiction": "US-MN",
        "route": "annual",
        "units": "us",
        "technician": "T. Placeholder (invented)",
        "site": "Made-up Street 1, Nowhere",
        "invented": True,
    },
    "appliance": {
        "words": "boiler with a draft hood",
        "class": "natural-draft-boiler",
        "serial": "NOT-REAL-0001",
        "burner": "natural draft",
    },
    "fuel": {"name": "natural-gas"},
    "instrument": {"words": "analyser NOT-REAL-A7", "accuracy": "statutory", "zero": "outdoors"},
}

VALUES = {
    "worn meter": "0",
    "carbon monoxide outdoors": "0",
    "carbon monoxide on entry": "0",
    "gas pressure, standing": "7.2",
    "gas pressure, everything on": "6.9",
    "spillage": "12",
    "draft": "-.02",
    "carbon monoxide in the room": "0",
    "oxygen": "6.1",
    "carbon dioxide": "8.4",
    "carbon monoxide": "38",
    "stack": "385",
    "air to the burner": "66",
}
"""What is read, by how a proposal begins; the longest beginning counts."""


class Door:
    """The pages on a port of this machine, that can be shut and opened again over the same journal."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.socket = _listening(0)
        self.port: int = self.socket.getsockname()[1]
        self.here = f"http://127.0.0.1:{self.port}"
        self.pages = Pages(folder, port=self.port)
        self._serve()

    def _serve(self) -> None:
        settings = uvicorn.Config(self.pages.app, log_level="error", timeout_graceful_shutdown=1)
        self.server = uvicorn.Server(settings)
        self.thread = threading.Thread(target=self.server.run, args=([self.socket],), daemon=True)
        self.thread.start()

    def shut(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)
        self.socket.close()
        self.pages.close()

    def open_again(self) -> None:
        self.socket = _listening(self.port)
        self.pages = Pages(self.folder, port=self.port)
        self._serve()


class Hand:
    """One hand: taps where the screen is touched, keys where there is a keyboard."""

    def __init__(self, tab: Any, *, touch: bool) -> None:
        self.tab, self.touch, self.count = tab, touch, 0
        self.read = 0
        tab.set_default_timeout(20_000)

    def tap(self, target: str) -> None:
        found = self.tab.locator(target).locator("visible=true").first
        (found.tap if self.touch else found.click)()
        self.count += 1

    def _made(self) -> str:
        found = self.tab.query_selector("#open input[name=sent]")
        return str(found.get_attribute("value")) if found else ""

    def until_kept(self, act: Any) -> None:
        """Do something that keeps a line, and wait for the answer of the machine."""
        before = self._made()
        act()
        self.tab.wait_for_function(
            "before => (document.querySelector('#open input[name=sent]') || {value: before}).value != before",
            arg=before,
        )
        error = self.tab.query_selector("#four")
        assert error is None, error.inner_text()

    def what(self) -> str:
        """What is proposed."""
        return str(self.tab.inner_text("#asked .what b")).lower()

    def number(self, value: str) -> None:
        """Answer the proposal with a number."""
        if self.touch:
            if self.tab.is_hidden("#pad"):
                self.tap("[data-key=pad]")
            for sign in value:
                self.tap(f"#pad [data-key='{sign}']" if sign != "-" else "[data-key=sign]")
            self.until_kept(lambda: self.tap("button.main"))
        else:
            self.tab.keyboard.type(value)
            self.count += len(value) + 1
            self.until_kept(lambda: self.tab.keyboard.press("Enter"))
        self.read += 1

    def line(self, words: str, readings: int) -> None:
        """A line in trade shorthand."""
        self.tab.keyboard.type(words)
        self.count += len(words) + 1
        self.until_kept(lambda: self.tab.keyboard.press("Enter"))
        self.read += readings

    def answer(self) -> bool:
        """Answer what is proposed: by number, by the first answer, or that it cannot be had; False for nothing."""
        if not self.tab.query_selector("#asked .what b") or self.tab.query_selector(".foot .why") is None:
            return False
        what = self.what()
        names = [name for name in VALUES if what.startswith(name)]
        if self.tab.query_selector("#open input[name=before]") and names:
            self.number(VALUES[max(names, key=len)])
        elif self.tab.query_selector(".taps button"):
            self.until_kept(lambda: self.tap(".taps button"))
            self.read += 1
        else:
            self.tap(".why > summary")
            self.until_kept(lambda: self.tap(".why button:has-text('it cannot be reached')"))
        return True

    def step(self, words: str) -> None:
        self.tap(".strip a:has-text('step')")
        self.tap(f"label:has-text('{words}')")
        self.tap("button.main")
        self.tab.wait_for_selector("#said")

    def photograph(self, path: Path) -> None:
        """The word, then the shutter."""
        with self.tab.expect_file_chooser() as chooser:
            self.tap("[data-photo]")
        self.count += 1
        self.until_kept(lambda: chooser.value.set_files(str(path)))

    def seal(self) -> None:
        self.tap("text=seal this visit")
        self.tap("button.main")
        self.tab.wait_for_selector(".dock.still")


def picture(folder: Path, shade: int = 120) -> Path:
    """A photograph as a telephone takes it, with the place in it where it was taken."""
    from PIL import Image

    path = folder / f"photo-{shade}.jpg"
    image = Image.new("RGB", (1600, 1200), (shade, shade, shade - 20))
    beside = Image.Exif()
    beside[0x010F] = "Invented Maker"
    beside.get_ifd(0x8825)[1] = "N"
    image.save(path, "JPEG", exif=beside)
    return path


def come_in(door: Door, context: Any) -> None:
    tab = context.new_page()
    tab.goto(f"{door.here}/open?token={TOKEN}")
    tab.close()
