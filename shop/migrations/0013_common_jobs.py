"""A new shop starts with common jobs and a final check; it edits them as it likes."""

from decimal import Decimal

from django.db import migrations

from shop.migrations._common_jobs import JOBS, POINTS


def put(apps, schema_editor):
    """Write the jobs and points, where there are none yet."""
    template_model = apps.get_model("shop", "TaskTemplate")
    step_model = apps.get_model("shop", "TemplateStep")
    point_model = apps.get_model("shop", "CheckPoint")
    for name, description, steps in JOBS:
        template = template_model.objects.create(name=name, description=description)
        made = []
        for place, (operation, a, m, b, kind, after, caution) in enumerate(steps, 1):
            step = step_model.objects.create(
                template=template,
                position=place,
                operation=operation,
                labour_kind=kind,
                caution=caution,
                optimistic_hours=Decimal(a),
                likely_hours=Decimal(m),
                pessimistic_hours=Decimal(b),
            )
            made.append(step)
            step.after.set([made[number - 1] for number in after])
    for place, (text, caution) in enumerate(POINTS, 1):
        point_model.objects.create(position=place, text=text, caution=caution)


class Migration(migrations.Migration):
    """Put the rows."""

    dependencies = [("shop", "0012_plans")]
    operations = [migrations.RunPython(put, migrations.RunPython.noop)]
