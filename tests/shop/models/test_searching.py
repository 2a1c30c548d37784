"""Whatever is typed into a search field becomes words."""

from hypothesis import given
from hypothesis import strategies as st

from shop.models.searching import LONGEST_WORD, MOST_WORDS, search_words


@given(st.text(st.characters(exclude_categories=[])))
def test_no_search_can_break_the_database(text: str) -> None:
    words = search_words(text)
    assert len(words) <= MOST_WORDS
    for word in words:
        assert 0 < len(word) <= LONGEST_WORD
        assert word.isprintable()
        word.encode()


def test_words_are_parted_at_any_space() -> None:
    assert search_words("\theron\u00a0350\n") == ["heron", "350"]
