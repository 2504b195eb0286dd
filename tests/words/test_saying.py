"""Sentences from templates: languages, numbers, what has no translation, and what stays known in English."""

import copy
import time
import timeit

import pytest

from fluewright import words
from fluewright.errors import UseError
from fluewright.quantity import show

OVER = "{reading} is {way}, as this makes it"


def test_english_is_the_template_itself() -> None:
    assert words.say(OVER, reading="Draft −2.5 Pa", way="weaker") == "Draft −2.5 Pa is weaker, as this makes it"
    assert words.say("braces {stay} without fields") == "braces {stay} without fields"
    assert words.spoken("") == ""


@pytest.mark.usefixtures("german")
def test_a_translated_sentence_still_knows_its_english() -> None:
    said = words.say(OVER, reading="Zug", way=words.spoken("weaker than usual"))
    assert said == "Zug ist schwächer als üblich, wie es diese Ursache bewirkt"
    assert words.english(said) == "Zug is weaker than usual, as this makes it"
    assert words.english(copy.deepcopy(said)) == words.english(said)
    assert words.spoken(said) is said


@pytest.mark.usefixtures("german")
def test_a_sentence_without_translation_is_english_in_every_part() -> None:
    way = words.spoken("weaker than usual")
    assert way == "schwächer als üblich"
    assert words.say("nobody translated {way}", way=way) == "nobody translated weaker than usual"
    assert words.pieces("nobody translated {way}.", way=way) == ("nobody translated ", "weaker than usual", ".")


def test_so_many_take_their_form(compiled: None) -> None:
    one = "{count} more line waits until people were asked and are safe."
    many = "{count} more lines wait until people were asked and are safe."
    assert words.say_count(one, many, 1).startswith("1 more line waits")
    assert words.say_count(one, many, 2).startswith("2 more lines wait")
    with words.speaking("de"):
        assert words.say_count(one, many, 1).startswith("1 weitere Zeile wartet")
        assert words.english(words.say_count(one, many, 3)) == many.format(count=3)


def test_pieces_follow_the_language_and_leave_out_what_is_empty(compiled: None) -> None:
    template = "standing: {causes}, because {because}."
    assert words.pieces(template, causes=1, because=2) == ("standing: ", 1, ", because ", 2, ".")
    assert words.pieces(template, causes="", because="b") == ("standing: ", ", because ", "b", ".")
    with words.speaking("de"):
        assert words.pieces(template, causes=1, because=2) == ("bleibt stehen: ", 1, ", denn ", 2, ".")


def test_figures_take_the_mark_of_the_language_and_keep_their_unit(compiled: None) -> None:
    assert show.shown(-2.5, quantity="draft", system="si") == "−2.5\u202fPa"
    with words.speaking("de"):
        assert show.shown(-2.5, quantity="draft", system="si") == "−2,5\u202fPa"
        assert words.number(3.14159, ".2f") == "3,14"
    assert words.number(3.14159, ".2f") == "3.14"


def test_a_language_ends_with_its_door(compiled: None) -> None:
    with words.speaking("de"):
        assert words.spoken("draft") == "Zug"
        with words.speaking("en"):
            assert words.spoken("draft") == "draft"
        assert words.spoken("draft") == "Zug"
    assert words.spoken("draft") == "draft"


def test_a_language_that_nobody_has_is_refused() -> None:
    with pytest.raises(UseError) as caught, words.speaking("xx"):
        pass
    assert caught.value.code == "FW-U-320"
    assert "de" in caught.value.expected


def test_without_a_compiled_catalog_everything_is_english(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(words, "catalog_of", lambda name: words.LOCALE / name / "nothing.mo")
    words._language.cache_clear()
    try:
        with words.speaking("de"):
            assert words.say("inspect the heat exchanger") == "inspect the heat exchanger"
            assert words.decimal_mark() == "."
    finally:
        words._language.cache_clear()


def test_saying_costs_little(compiled: None) -> None:
    def each(language: str) -> float:
        with words.speaking(language):
            run = timeit.Timer(lambda: words.say(OVER, reading="Draft", way="weaker"), timer=time.process_time)
            return min(run.repeat(60, 2_000)) / 2_000  # the best of many short ones: others work on this machine too

    assert each("en") < 2e-6
    assert each("de") < 2e-6
