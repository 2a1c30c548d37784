from hypothesis import given
from hypothesis import strategies as st

from shop.domain.search import MOST_WORDS, Wanted, squeezed


def test_a_frame_number_compares_however_it_is_spaced() -> None:
    assert squeezed("hx 350-0417") == squeezed("HX3500417") == "HX3500417"


def test_a_work_order_is_meant_by_its_number_with_or_without_letters() -> None:
    for typed in ("WO-12", "wo12", "wo 12", "12"):
        assert Wanted.of(typed).number("WO") == 12
    for typed in ("T-12", "12a", "", "WO", "1234567890", "²"):
        assert Wanted.of(typed).number("WO") is None


def test_signs_alone_look_for_nothing_and_one_letter_is_too_short() -> None:
    assert Wanted.of(" - / ").is_nothing
    assert Wanted.of("h").is_too_short
    assert not Wanted.of("hx").is_too_short


@given(st.text(max_size=300))
def test_whatever_is_typed_becomes_words_that_a_column_can_hold(typed: str) -> None:
    wanted = Wanted.of(typed)
    assert len(wanted.words) <= MOST_WORDS
    assert all(word.isprintable() and word.strip() for word in wanted.words)
    assert Wanted.of(wanted.text) == wanted
