"""Takes the pictures of the pages in the README anew, from the invented shop, in a real browser.

    python scripts/pictures.py            # into docs/pictures; needs Chromium

Each is made from `fluewright serve --demo` over a journal in a folder that is thrown away, so that it shows what
anybody gets; a picture of more than 150 kB is an error, since a README is read on telephones too.
"""

import io
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "docs" / "pictures"
MOST = 150_000
"""Bytes of one picture."""
COLOURS = 48
"""Paper, ink and what lies between them."""
PLANE = "[...document.querySelectorAll('figure:has(svg.dr)')].find(e => e.checkVisibility()).scrollIntoView()"
RUN = "from fluewright.cli.main import run; run()"
BOILER = "/find?words=gas boiler"


def served(folder: Path) -> tuple[subprocess.Popen[str], str]:
    """The invented shop on an address of this machine, in a home of its own."""
    places = {f"XDG_{name}_HOME": str(folder / name) for name in ("DATA", "CONFIG", "STATE", "CACHE")}
    told = {**os.environ, **places, "HOME": str(folder), "PYTHONPATH": str(ROOT / "src")}
    command = [sys.executable, "-c", RUN, "serve", "--demo", "--port", "0", "--json"]
    going = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=told)
    assert going.stdout is not None
    return going, str(json.loads(going.stdout.readline())["address"])


def kept(tab: Any, name: str) -> None:
    """The page as it stands, in few colours."""
    from PIL import Image

    image = Image.open(io.BytesIO(tab.screenshot())).convert("RGB")
    path = PICTURES / f"{name}.png"
    image.quantize(COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
    size = path.stat().st_size
    if size > MOST:
        raise SystemExit(f"{path.name}: {size} bytes, at most {MOST} are wanted")
    print(f"{path.relative_to(ROOT)}  {size // 1000} kB")


def liked(tab: Any, here: str, look: str, width: int, height: int) -> None:
    """How the pages look from now on."""
    tab.context.add_cookies([{"name": "fluewright-look", "value": look, "url": here}])
    tab.set_viewport_size({"width": width, "height": height})


def typed(tab: Any, line: str) -> None:
    """One line sent, and its answer waited for."""
    sent = "#open input[name=sent]"
    before = tab.get_attribute(sent, "value")
    tab.fill("#line", line)
    tab.press("#line", "Enter")
    tab.wait_for_function(f"before => document.querySelector('{sent}').value != before", arg=before)


def worked(tab: Any, here: str) -> None:
    """A visit to a boiler that does not exist, as far as its second flame."""
    tab.goto(f"{here}/visit/new")
    door = {"appliance": "boiler in the cellar", "class": "natural-draft-boiler", "site": "Made-up Street 1, Nowhere",
            "route": "annual", "technician": "T. Placeholder (invented)", "zero": "outdoors"}  # fmt: skip
    for name, words in door.items():
        tab.fill(f"[name={name}]", words)
    tab.click("button.main")
    tab.wait_for_selector("#line")
    place = "at below hood, left of baffle"
    for line in ("room: symptoms=no", f"o2 7.1 co 52 stack 431F air 66F {place}", "step air openings cleared",
                 f"o2 5.6 co 21 stack 389F air 66F {place}"):  # fmt: skip
        typed(tab, line)
    tab.type("#line", "draft -.02 at breech")
    tab.wait_for_selector("#trying *")


def taken(tab: Any, here: str) -> None:
    """All pictures, one after the other."""
    paper, lamp = "paper.regular.normal.right", "lamp.regular.normal.right"
    liked(tab, here, paper, 820, 1000)
    tab.goto(f"{here}/")
    kept(tab, "today")
    tab.goto(here + BOILER)
    tab.click("td a[href^='/appliance/']:has-text('gas boiler')")
    tab.wait_for_selector("svg.dr")
    tab.evaluate("document.querySelector('.history').scrollIntoView()")
    kept(tab, "history")
    worked(tab, here)
    tab.evaluate(PLANE)
    kept(tab, "visit")
    liked(tab, here, lamp, 390, 844)
    tab.reload()
    tab.wait_for_selector("#line")
    tab.evaluate(PLANE)
    kept(tab, "visit-lamp")


def main() -> None:
    """Serve, look, keep."""
    found = shutil.which("chromium")
    if found is None:
        raise SystemExit("no Chromium here (on Debian: apt-get install chromium)")
    from playwright.sync_api import sync_playwright

    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as place, sync_playwright() as driver:
        going, address = served(Path(place))
        try:
            browser = driver.chromium.launch(executable_path=found, args=["--no-sandbox"])
            tab = browser.new_page()
            tab.goto(address)
            taken(tab, address.rpartition("/open")[0])
            browser.close()
        finally:
            going.send_signal(signal.SIGINT)
            going.wait(20)


if __name__ == "__main__":
    main()
