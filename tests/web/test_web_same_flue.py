"""Several appliances on one flue: each with a sheet of its own, and led to from the others."""

import re

from pages_kit import Pages, visible

from fluewright.record.draft import Draft


def test_the_others_on_the_flue_are_led_to_and_then_found(pages: Pages) -> None:
    journal = pages.journal
    site = journal.add(Draft("site", {"address": "Made-up Street 1, Nowhere"})).id
    boiler, heater, alone = (
        journal.add(Draft("appliance", {"words": words, "site": site, "serial": f"NOT-REAL-{number}"})).id
        for number, words in enumerate(("boiler", "water heater", "furnace on its own"))
    )
    pages.get(f"/visit/new?appliance={boiler}")
    page = begun(pages, "boiler", "NOT-REAL-0")
    assert "The others on this flue" not in visible(page), "no group, nothing said"
    first = pages.at
    journal.add(Draft("flue group", {"words": "the flue of the cellar", "site": site, "appliances": [boiler, heater]}))
    page = pages.get(first)
    assert "water heater not visited on this day; begin it" in visible(page)
    assert "furnace on its own" not in visible(page) and alone
    pages.get(f"/visit/new?appliance={heater}")
    begun(pages, "water heater", "NOT-REAL-1")
    second = pages.at
    assert f'href="{second}"' in pages.get(first)
    assert f'href="{first}"' in pages.get(second)
    assert "its visit of the same day" in visible(pages.last)


def hidden(pages: Pages) -> dict[str, str]:
    """The ids that the page of a new visit carries."""
    return dict(re.findall(r'name="(of-\w+)" value="([^"]*)"', pages.last))


def begun(pages: Pages, words: str, serial: str) -> str:
    """The page of the visit that begins from the page of a new visit."""
    door = {"appliance": words, "serial": serial, "fuel": "natural-gas", "site": "Made-up Street 1, Nowhere"}
    return pages.post("/visit/new", {**hidden(pages), **door})
