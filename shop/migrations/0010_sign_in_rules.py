"""From which day those who handle money need a second step when signing in."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("shop", "0009_outside_work")]
    operations = [
        migrations.CreateModel(
            name="SignInRules",
            fields=[
                (
                    "id",
                    models.PositiveSmallIntegerField(
                        default=1, primary_key=True, serialize=False
                    ),
                ),
                ("second_step_from", models.DateField(blank=True, null=True)),
            ],
            options={"verbose_name_plural": "sign-in rules"},
        ),
        migrations.AddConstraint(
            model_name="signinrules",
            constraint=models.CheckConstraint(
                condition=models.Q(("pk", 1)), name="sign_in_rules_one_row"
            ),
        ),
    ]
