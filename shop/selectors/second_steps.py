"""Who has a second step when signing in, and who must have one."""

from dataclasses import dataclass
from datetime import date

from allauth.mfa.models import Authenticator

from shop.domain.roles import HANDLES_MONEY, ROLE_LABELS, Act, Role, Viewer
from shop.domain.second_steps import Demand, SecondStepRule
from shop.models import SignInRules, User

_STEPS = (Authenticator.Type.TOTP, Authenticator.Type.WEBAUTHN)


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondStepRow:
    """How one person stands."""

    person_id: int
    name: str
    role_label: str
    has_second_step: bool
    is_demanded: bool


def second_step_rule() -> SecondStepRule:
    """Return the shop's rule."""
    return SecondStepRule(SignInRules.objects.current().second_step_from)


def has_second_step(*, user_id: int) -> bool:
    """Say whether somebody has a code or a passkey; recovery codes alone are none."""
    return bool(Authenticator.objects.filter(user_id=user_id, type__in=_STEPS).exists())


def second_step_demand(*, viewer: Viewer, on: date) -> Demand:
    """Say whether this viewer still has to set one up, and whether at once."""
    if viewer.role not in HANDLES_MONEY:
        return Demand.NONE
    demand = second_step_rule().demand_of(viewer.role, on=on)
    if demand is not Demand.NONE and has_second_step(user_id=viewer.user_id):
        return Demand.NONE
    return demand


def second_step_list(*, viewer: Viewer, on: date) -> tuple[SecondStepRow, ...]:
    """Return everybody who can sign in, and whether they have one."""
    viewer.demand(Act.KEEP_PEOPLE)
    rule = second_step_rule()
    own = Authenticator.objects.filter(type__in=_STEPS)
    having = set(own.values_list("user_id", flat=True))
    return tuple(
        SecondStepRow(
            person_id=person.pk,
            name=person.name,
            role_label=ROLE_LABELS[Role(person.role)],
            has_second_step=person.pk in having,
            is_demanded=rule.demand_of(Role(person.role), on=on) is not Demand.NONE,
        )
        for person in User.objects.by_name().at_work()
    )
