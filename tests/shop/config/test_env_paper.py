"""How paper is to look is checked before the service starts."""

import pytest
from django.core.exceptions import ImproperlyConfigured

from shop.config.env import env_choice, env_locale
from shop.paper.sheets import PAGE_SIZES

NAME = "LOOM_TEST_ONLY"


def test_a_sheet_of_a_size_that_is_not_kept_stops_the_start(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    sizes = tuple(PAGE_SIZES)
    assert env_choice(NAME, "A4", choices=sizes) == "A4"
    monkeypatch.setenv(NAME, "Letter")
    assert env_choice(NAME, "A4", choices=sizes) == "Letter"
    monkeypatch.setenv(NAME, "papyrus")
    with pytest.raises(ImproperlyConfigured, match="none of A4, Letter"):
        env_choice(NAME, "A4", choices=sizes)


@pytest.mark.parametrize("name", ["en_IE", "de_CH", "fr"])
def test_a_locale_that_is_known_is_taken(
    monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.setenv(NAME, name)
    assert env_locale(NAME, "en_GB") == name


@pytest.mark.parametrize("name", ["xx_YY", "english", "en-GB", "1", "de_CH_é/.."])
def test_a_locale_that_is_not_known_stops_the_start(
    monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.setenv(NAME, name)
    with pytest.raises(ImproperlyConfigured, match="not a locale"):
        env_locale(NAME, "en_GB")
