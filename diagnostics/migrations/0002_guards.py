"""What was read, believed and done is on record for good; so is each drawing."""

from django.db import migrations

from shop.models.append_only import append_only


class Migration(migrations.Migration):
    """Put the triggers."""

    dependencies = [("diagnostics", "0001_initial")]

    operations = [
        *append_only("diagnostics_harnessfile"),
        *append_only("diagnostics_finding"),
        *append_only("diagnostics_findingvoid"),
        *append_only("diagnostics_belief"),
        *append_only("diagnostics_repair"),
    ]
