"""Where a part taken off may go, and what each way asks for."""

from itertools import product

import pytest

from shop.domain.refusals import IllegalMove, Refusal
from shop.domain.strip_tags import (
    NO_CONSENT,
    SETTLED,
    TAG_EVENT_DONE,
    TAG_EVENT_LABELS,
    TAG_FATE_LABELS,
    TAG_MOVES,
    TAG_STATE_LABELS,
    UNSETTLED,
    Consent,
    TagDetails,
    TagEvent,
    TagFate,
    TagState,
    next_tag_state,
    number_of,
    tag_code,
    tag_label,
)

AGREED = Consent(by_name="Ada Fenn", how="by telephone")
FATE_FOR = {TagEvent.FIT: TagFate.REFIT, TagEvent.SCRAP: TagFate.SCRAP}
ILLEGAL = [pair for pair in product(TagState, TagEvent) if pair not in TAG_MOVES]


def go(
    state: TagState,
    event: TagEvent,
    *,
    fate: TagFate | None = None,
    consent: Consent = AGREED,
    reason: str = "the rim is bent",
) -> TagState:
    chosen = fate or FATE_FOR.get(event, TagFate.REFIT)
    return next_tag_state(state, event, fate=chosen, consent=consent, reason=reason)


@pytest.mark.parametrize(("state", "event"), ILLEGAL)
def test_a_move_outside_the_table_is_refused(state: TagState, event: TagEvent) -> None:
    with pytest.raises(IllegalMove) as refused:
        go(state, event)
    assert refused.value.code == "illegal-move"


@pytest.mark.parametrize(("state", "event"), list(TAG_MOVES))
def test_a_move_of_the_table_leads_where_it_says(
    state: TagState, event: TagEvent
) -> None:
    assert go(state, event) is TAG_MOVES[state, event]


def test_every_state_is_either_settled_or_not_and_every_word_is_there() -> None:
    assert set(TagState) == SETTLED | UNSETTLED
    assert not SETTLED & UNSETTLED
    assert set(TAG_STATE_LABELS) == set(TagState)
    assert set(TAG_EVENT_LABELS) == set(TAG_EVENT_DONE) == set(TagEvent)
    assert set(TAG_FATE_LABELS) == set(TagFate)


@pytest.mark.parametrize(
    ("state", "event"),
    [(TagState.ON_SHELF, TagEvent.SCRAP), (TagState.OUT, TagEvent.WRITE_OFF)],
)
def test_nothing_of_the_customers_goes_for_good_without_a_name(
    state: TagState, event: TagEvent
) -> None:
    with pytest.raises(IllegalMove) as refused:
        go(state, event, consent=Consent(by_name=" "))
    assert (refused.value.code, refused.value.field) == (
        "consent-missing",
        "consent_by_name",
    )


@pytest.mark.parametrize("fate", [TagFate.REPLACE, TagFate.RETURN, TagFate.SCRAP])
def test_what_does_not_go_back_on_is_not_fitted(fate: TagFate) -> None:
    with pytest.raises(IllegalMove) as refused:
        go(TagState.ON_SHELF, TagEvent.FIT, fate=fate)
    assert refused.value.code == "fate-says-otherwise"


def test_only_what_is_to_be_scrapped_is_scrapped() -> None:
    with pytest.raises(IllegalMove):
        go(TagState.ON_SHELF, TagEvent.SCRAP, fate=TagFate.REFIT)


@pytest.mark.parametrize(
    ("state", "event"),
    [(TagState.ON_BIKE, TagEvent.TAKE_OFF_AGAIN), (TagState.OUT, TagEvent.WRITE_OFF)],
)
def test_a_step_back_needs_a_reason(state: TagState, event: TagEvent) -> None:
    with pytest.raises(IllegalMove) as refused:
        go(state, event, reason=" ")
    assert refused.value.field == "reason"


@pytest.mark.parametrize("typed", ["T-572-4", "t5724", " 572-4 ", "5724", "T 572 4"])
def test_a_number_is_read_however_it_is_typed(typed: str) -> None:
    assert number_of(typed) == 572
    assert (tag_label(572), tag_code(572)) == ("T-572-4", "5724")


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("5274", "tag-number-miscopied"),
        ("5723", "tag-number-miscopied"),
        ("", "tag-number-unreadable"),
        ("T-", "tag-number-unreadable"),
        ("4", "tag-number-unreadable"),
        ("wheel", "tag-number-unreadable"),
        ("٥٧٢٤", "tag-number-unreadable"),
        ("9" * 40, "tag-number-unreadable"),
    ],
)
def test_a_number_copied_wrong_says_so(typed: str, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        number_of(typed)
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"name": ""}, "name"),
        ({"pieces": 0}, "pieces"),
        ({"pieces": 1000}, "pieces"),
        ({"condition": "mint"}, "condition"),
        ({"place": "x" * 121}, "place"),
    ],
)
def test_what_cannot_stand_on_a_tag_is_refused(
    wrong: dict[str, object], field: str
) -> None:
    details = {"name": "Rear wheel", **wrong}
    with pytest.raises(Refusal) as refused:
        TagDetails(**details).checked()  # type: ignore[arg-type]  # wrong on purpose
    assert refused.value.field == field


def test_consent_says_who_and_how() -> None:
    assert NO_CONSENT.by_name == ""
    assert Consent(by_name=" Ada Fenn ").checked().by_name == "Ada Fenn"
