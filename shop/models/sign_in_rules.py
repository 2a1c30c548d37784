"""What the shop asks of those who sign in: one row."""

from django.db import models
from typing_extensions import override

THE_ONE = 1


class SignInRulesQuerySet(models.QuerySet["SignInRules"]):
    """The one row, or its defaults."""

    def current(self) -> "SignInRules":
        """Return the rules; an unsaved row of defaults until somebody saves."""
        return self.filter(pk=THE_ONE).first() or SignInRules(pk=THE_ONE)


class SignInRules(models.Model):
    """From which day those who handle money need a second step."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=THE_ONE)
    second_step_from = models.DateField(null=True, blank=True)

    objects = models.Manager.from_queryset(SignInRulesQuerySet)()

    class Meta:
        verbose_name_plural = "sign-in rules"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(pk=THE_ONE), name="sign_in_rules_one_row"
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the day."""
        return f"second step from {self.second_step_from or 'never'}"
