import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.devices import PROGRAM, UNKNOWN, device_words


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (
            (
                "Mozilla/5.0 (Linux; Android 15) AppleWebKit/537.36 (KHTML, like "
                "Gecko) Chrome/140.0.0.0 Mobile Safari/537.36"
            ),
            "Chrome on an Android phone",
        ),
        (
            (
                "Mozilla/5.0 (Linux; Android 15) AppleWebKit/537.36 (KHTML, like "
                "Gecko) Chrome/140.0.0.0 Safari/537.36"
            ),
            "Chrome on an Android tablet",
        ),
        (
            (
                "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) "
                "AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.0 Safari/604.1"
            ),
            "Safari on a phone (iOS)",
        ),
        (
            (
                "Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, "
                "like Gecko) Chrome/140.0.0.0 Safari/537.36 Edg/140.0.0.0"
            ),
            "Edge on Windows",
        ),
        ("python-requests/2.32", PROGRAM),
        ("", UNKNOWN),
        ("   ", UNKNOWN),
    ],
)
def test_a_device_is_named_as_its_owner_would(said: str, words: str) -> None:
    assert device_words(said) == words


@given(st.text())
def test_whatever_a_browser_says_has_a_name(said: str) -> None:
    assert device_words(said)
