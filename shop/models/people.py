"""People who work in the shop."""

from typing import Any, ClassVar

from django.contrib.auth.models import AbstractUser, UserManager
from django.db import models
from typing_extensions import override

from shop.domain.refusals import NotAllowed
from shop.domain.roles import ROLE_LABELS, Act, Role, Viewer, demand, may
from shop.models.columns import MONEY_DIGITS, MONEY_PLACES, at_least, choices, one_of


class UserQuerySet(models.QuerySet["User"]):
    """People, narrowed."""

    def at_work(self) -> "UserQuerySet":
        """Keep those who can sign in."""
        return self.filter(is_active=True)

    def with_role(self, *roles: Role) -> "UserQuerySet":
        """Keep those with one of the roles."""
        return self.filter(role__in=[role.value for role in roles])

    def by_name(self) -> "UserQuerySet":
        """Sort by name, who can sign in first."""
        return self.order_by("-is_active", "first_name", "last_name", "username", "pk")


class PeopleManager(UserManager["User"]):
    """Makes users; whoever is made at the command line is the owner."""

    @override
    def get_queryset(self) -> UserQuerySet:
        """Return our own query set."""
        return UserQuerySet(self.model, using=self._db)

    def with_role(self, *roles: Role) -> UserQuerySet:
        """Keep those with one of the roles."""
        return self.get_queryset().with_role(*roles)

    def by_name(self) -> UserQuerySet:
        """Sort by name, who can sign in first."""
        return self.get_queryset().by_name()

    @override
    def create_superuser(
        self,
        username: str,
        email: str | None = None,
        password: str | None = None,
        **extra_fields: Any,
    ) -> "User":
        """Make an owner who may also use the admin pages."""
        extra_fields.setdefault("role", Role.OWNER.value)
        return super().create_superuser(username, email, password, **extra_fields)


class User(AbstractUser):
    """Somebody who works in the shop, with one role."""

    role = models.CharField(
        max_length=20, choices=choices(ROLE_LABELS), default=Role.TECHNICIAN.value
    )
    hourly_rate = models.DecimalField(
        max_digits=MONEY_DIGITS,
        decimal_places=MONEY_PLACES,
        null=True,
        blank=True,
        help_text="Empty: the shop's own rate.",
    )

    objects: ClassVar[PeopleManager] = PeopleManager()

    class Meta(AbstractUser.Meta):
        constraints = [
            one_of("role", Role, name="user_role_known"),
            at_least("hourly_rate", 0, name="user_rate_not_negative"),
        ]

    @property
    def name(self) -> str:
        """What the others call this person."""
        return self.get_full_name() or self.username

    def may(self, act: Act) -> bool:
        """Say whether this person's role includes the act."""
        return self.is_active and may(Role(self.role), act)

    def demand(self, act: Act) -> None:
        """Refuse unless this person's role includes the act.

        Raises
        ------
        NotAllowed
            The role does not include it, or the person cannot sign in any more.
        """
        if not self.is_active:
            raise NotAllowed(
                "signed-out", "This account is closed. Ask the owner to open it again."
            )
        demand(Role(self.role), act)

    def as_viewer(self) -> Viewer:
        """Return what selectors and seams need to know of this person."""
        return Viewer(user_id=self.pk, name=self.name, role=Role(self.role))
