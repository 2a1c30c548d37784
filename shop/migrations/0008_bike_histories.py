"""Owners of a bike one after the other, odometer readings, further contacts."""

from decimal import Decimal

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from shop.models.append_only import append_only

# Each bike's owner, on both databases; since when, nobody had asked.
PRESENT_OWNERS = """
    INSERT INTO shop_ownership (bike_id, customer_id, note, created_at)
    SELECT id, owner_id, '', created_at FROM shop_bike
"""


class Migration(migrations.Migration):
    """Make the tables."""

    dependencies = [
        ("shop", "0007_clocks"),
    ]

    operations = [
        migrations.CreateModel(
            name="Contact",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("name", models.CharField(max_length=120)),
                ("relation", models.CharField(blank=True, max_length=80)),
                ("phone", models.CharField(blank=True, max_length=40)),
                ("email", models.EmailField(blank=True, max_length=254)),
                (
                    "preferred",
                    models.CharField(
                        choices=[
                            ("phone", "Call"),
                            ("text_message", "Text message"),
                            ("email", "E-mail"),
                            ("letter", "Letter"),
                        ],
                        max_length=20,
                    ),
                ),
                ("notes", models.TextField(blank=True)),
                ("created_at", models.DateTimeField()),
                ("retired_at", models.DateTimeField(blank=True, null=True)),
                (
                    "customer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="contacts",
                        to="shop.customer",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "preferred__in",
                                ["phone", "text_message", "email", "letter"],
                            )
                        ),
                        name="contact_way_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), _negated=True),
                        name="contact_has_name",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="OdometerReading",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("distance", models.DecimalField(decimal_places=1, max_digits=9)),
                (
                    "unit",
                    models.CharField(
                        choices=[("km", "km"), ("miles", "miles")], max_length=10
                    ),
                ),
                ("read_on", models.DateField()),
                ("reason", models.CharField(blank=True, max_length=200)),
                ("read_by_name", models.CharField(max_length=160)),
                ("created_at", models.DateTimeField()),
                (
                    "bike",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="odometer_readings",
                        to="shop.bike",
                    ),
                ),
                (
                    "corrects",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="corrected_by",
                        to="shop.odometerreading",
                    ),
                ),
                (
                    "read_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "work_order",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="odometer_readings",
                        to="shop.workorder",
                    ),
                ),
            ],
            options={
                "indexes": [
                    models.Index(fields=["bike", "-read_on"], name="odometer_of_bike")
                ],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("unit__in", ["km", "miles"])),
                        name="odometer_unit_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("distance__gte", 0), ("distance__lt", Decimal(10000000))
                        ),
                        name="odometer_distance_in_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("corrects__isnull", True),
                            models.Q(("reason", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="odometer_correction_has_reason",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Ownership",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("began_on", models.DateField(blank=True, null=True)),
                ("ended_on", models.DateField(blank=True, null=True)),
                ("note", models.CharField(blank=True, max_length=400)),
                ("created_at", models.DateTimeField()),
                (
                    "bike",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="ownerships",
                        to="shop.bike",
                    ),
                ),
                (
                    "customer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="ownerships",
                        to="shop.customer",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("ended_on__isnull", True)),
                        fields=("bike",),
                        name="ownership_one_present_owner",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("began_on__isnull", True),
                            ("ended_on__isnull", True),
                            ("ended_on__gte", models.F("began_on")),
                            _connector="OR",
                        ),
                        name="ownership_ends_after_it_began",
                    ),
                ],
            },
        ),
        *append_only("shop_odometerreading"),
        migrations.RunSQL(PRESENT_OWNERS, migrations.RunSQL.noop),
    ]
