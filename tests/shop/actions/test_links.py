from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from shop.actions.links import LIFE_DAYS, make_link, open_link, revoke_link
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound
from shop.models import Customer, CustomerLink, HistoryEntry, User
from shop.selectors.links import LinkClosed
from tests.builders import (
    MORNING,
    CustomerFactory,
    FrontDeskFactory,
    OwnerFactory,
    StorekeeperFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(days=1)


@pytest.fixture
def customer() -> Customer:
    return CustomerFactory.create()


@pytest.fixture
def desk() -> User:
    return FrontDeskFactory.create()


def test_a_link_is_made_and_opened_by_its_secret(
    customer: Customer, desk: User
) -> None:
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    assert made.expires_at == MORNING + timedelta(days=LIFE_DAYS)
    opened = open_link(secret=made.secret, acting_user=None, at=LATER)
    assert opened.customer_id == customer.pk
    opened.refresh_from_db()
    assert opened.last_used_at == LATER


def test_the_secret_is_long_differs_each_time_and_is_kept_nowhere(
    customer: Customer, desk: User
) -> None:
    secrets = [
        make_link(customer_id=customer.pk, acting_user=desk, at=MORNING).secret
        for _ in range(5)
    ]
    assert len(set(secrets)) == 5
    assert min(len(secret) for secret in secrets) >= 43  # 256 bits in base 64
    kept = str(list(CustomerLink.objects.values())) + str(
        list(HistoryEntry.objects.values())
    )
    assert not any(secret in kept for secret in secrets)


def test_a_wrong_secret_opens_nothing(customer: Customer, desk: User) -> None:
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    link = CustomerLink.objects.get()
    for secret in ("", "x", made.secret[:-1], made.secret + "a", link.secret_hash):
        with pytest.raises(NotFound):
            open_link(secret=secret, acting_user=None, at=LATER)


def test_an_expired_link_says_so(customer: Customer, desk: User) -> None:
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    just_before = made.expires_at - timedelta(seconds=1)
    open_link(secret=made.secret, acting_user=None, at=just_before)
    with pytest.raises(LinkClosed, match="ended on 1 May 2026") as refused:
        open_link(secret=made.secret, acting_user=None, at=made.expires_at)
    assert refused.value.code == "link-expired"


def test_a_revoked_link_says_so_at_once(customer: Customer, desk: User) -> None:
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    revoke_link(link_id=made.link_id, acting_user=OwnerFactory.create(), at=LATER)
    with pytest.raises(LinkClosed, match="closed this link") as refused:
        open_link(secret=made.secret, acting_user=None, at=LATER)
    assert refused.value.code == "link-revoked"


def test_a_link_is_revoked_once(customer: Customer, desk: User) -> None:
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    revoke_link(link_id=made.link_id, acting_user=desk, at=LATER)
    with pytest.raises(IllegalMove):
        revoke_link(link_id=made.link_id, acting_user=desk, at=LATER)
    with pytest.raises(NotFound):
        revoke_link(link_id=made.link_id + 1, acting_user=desk, at=LATER)


def test_only_owner_and_front_desk_share_with_customers(
    customer: Customer, desk: User
) -> None:
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    for user in (UserFactory.create(), StorekeeperFactory.create()):
        with pytest.raises(NotAllowed):
            make_link(customer_id=customer.pk, acting_user=user, at=MORNING)
        with pytest.raises(NotAllowed):
            revoke_link(link_id=made.link_id, acting_user=user, at=MORNING)


def test_a_customer_who_is_not_there_gets_no_link(desk: User) -> None:
    with pytest.raises(NotFound):
        make_link(customer_id=404, acting_user=desk, at=MORNING)


def test_each_act_leaves_an_entry_in_the_customers_history(
    customer: Customer, desk: User
) -> None:
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    open_link(secret=made.secret, acting_user=None, at=LATER)
    revoke_link(link_id=made.link_id, acting_user=desk, at=LATER)
    entries = HistoryEntry.objects.of_subject("customer", customer.pk).order_by("pk")
    assert [(entry.verb, entry.actor) for entry in entries] == [
        ("customer.link_made", desk),
        ("customer.link_opened", None),
        ("customer.link_revoked", desk),
    ]


def test_whose_link_it_is_cannot_be_changed_in_the_table(
    customer: Customer, desk: User
) -> None:
    make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    other = CustomerFactory.create()
    with pytest.raises(IntegrityError), transaction.atomic():
        CustomerLink.objects.update(customer=other)
    with pytest.raises(IntegrityError), transaction.atomic():
        CustomerLink.objects.update(expires_at=MORNING + timedelta(days=999))
