"""A line is understood as fast as it is typed, whatever is typed."""

import time

import pytest

from fluewright.visit import adding

VISIT = "01a214df-2492-7027-a83e-0db3e39669ee"
MOST = 2.0
"""s of this processor, some thirty times what it takes: without bounds it was forty."""


@pytest.mark.parametrize("text", ["o2 1.." * 600, "o2 4.3 " * 60, " ".join(f"o{n} 1" for n in range(600))])
def test_no_text_that_is_being_typed_takes_the_machine(text: str) -> None:
    begun = time.process_time()
    adding.tried((), VISIT, text[:400])
    assert time.process_time() - begun < MOST
