"""The second step when signing in: demanded of some, taken off a lost phone."""

from datetime import date, datetime

from allauth.mfa.models import Authenticator
from django.db import transaction

from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.models import SignInRules, User
from shop.models.sign_in_rules import THE_ONE


@transaction.atomic
def demand_second_step(
    *, from_day: date | None, acting_user: User, at: datetime
) -> SignInRules:
    """Ask those who handle money for a second step from a day on; None: of nobody."""
    acting_user.demand(Act.KEEP_SHOP_SETTINGS)
    SignInRules.objects.get_or_create(pk=THE_ONE)
    rules = locked(
        SignInRules.objects.all(), pk=THE_ONE, field="id", name="row of rules"
    )
    old = rules.second_step_from
    if old == from_day:
        return rules
    rules.second_step_from = from_day
    rules.save(update_fields=["second_step_from"])
    record(
        Happening(
            verb="sign_in_rules.edited",
            kind="shop_settings",
            subject_id=rules.pk,
            summary=(
                f"Second step demanded from {from_day.isoformat()}"
                if from_day
                else "Second step no longer demanded"
            ),
            changes={
                "second_step_from": (
                    old.isoformat() if old else "",
                    from_day.isoformat() if from_day else "",
                )
            },
        ),
        acting_user=acting_user,
        at=at,
    )
    return rules


@transaction.atomic
def reset_second_step(*, person_id: int, acting_user: User, at: datetime) -> User:
    """Take somebody's second step off, where the phone or key is lost.

    Raises
    ------
    Refusal
        There is none, or it is one's own: that is done on one's own page.
    """
    acting_user.demand(Act.KEEP_PEOPLE)
    person = locked(User.objects.all(), pk=person_id, field="person_id", name="person")
    if person.pk == acting_user.pk:
        raise Refusal(
            "own-second-step",
            "Your own second step is changed on your account page, where it is "
            "asked for once more.",
        )
    gone, _ = Authenticator.objects.filter(user_id=person.pk).delete()
    if not gone:
        raise Refusal("no-second-step", f"{person.name} has no second step.")
    record(
        Happening(
            verb="person.second_step_reset",
            kind="person",
            subject_id=person.pk,
            summary=f"Second step of {person.name} taken off",
        ),
        acting_user=acting_user,
        at=at,
    )
    return person
