from shop.domain.act_words import ACT_WORDS, act_words
from shop.domain.roles import Act


def test_every_act_says_in_words_what_it_lets_somebody_do() -> None:
    assert set(ACT_WORDS) == {act.value for act in Act}
    words = [act_words(act) for act in Act]
    assert len(set(words)) == len(words)
