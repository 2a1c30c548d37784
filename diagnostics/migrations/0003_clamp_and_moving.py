"""A finding may be a clamp round a wire, or taken while the loom was moved."""

from django.db import migrations, models

from shop.models.append_only import append_only

TOOLS = ["test-lamp", "voltmeter", "ohmmeter", "ammeter", "eye"]

TWO_LEADS = (
    ~models.Q(tool__in=["eye", "ammeter"])
    & ~models.Q(probe="")
    & ~models.Q(clip="")
    & models.Q(device="", wire="")
)
BY_EYE = models.Q(tool="eye", probe="", clip="", wire="") & ~models.Q(device="")
ROUND_A_WIRE = models.Q(tool="ammeter", probe="", clip="", device="") & ~models.Q(
    wire=""
)


class Migration(migrations.Migration):
    """Add both columns, and say anew which tools there are and what each names."""

    dependencies = [("diagnostics", "0002_guards")]

    operations = [
        migrations.RemoveConstraint(model_name="finding", name="finding_tool_known"),
        migrations.RemoveConstraint(model_name="finding", name="finding_names_where"),
        migrations.AddField(
            model_name="finding",
            name="wire",
            field=models.CharField(blank=True, default="", max_length=120),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="finding",
            name="moving",
            field=models.BooleanField(default=False),
        ),
        migrations.AddConstraint(
            model_name="finding",
            constraint=models.CheckConstraint(
                condition=models.Q(tool__in=TOOLS), name="finding_tool_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="finding",
            constraint=models.CheckConstraint(
                condition=BY_EYE | ROUND_A_WIRE | TWO_LEADS, name="finding_names_where"
            ),
        ),
        # Altering the table on SQLite rebuilds it without its triggers.
        *append_only("diagnostics_finding"),
    ]
