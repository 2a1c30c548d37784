"""Holds, advisories, templates of tasks, and final check lists."""

import django.db.models.deletion
from decimal import Decimal
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    """Put the tables."""

    dependencies = [("shop", "0005_strip_tags")]
    operations = [
        migrations.CreateModel(
            name="Advisory",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("what", models.CharField(max_length=400)),
                ("place", models.CharField(help_text="Where on the bike.", max_length=120)),
                ("urgency", models.CharField(choices=[("unsafe", "Not safe to ride"), ("soon", "Before long"), ("watch", "Keep an eye on it")], max_length=20)),
                ("noticed_at", models.DateTimeField()),
                ("told_at", models.DateTimeField(blank=True, null=True)),
                ("told_how", models.CharField(blank=True, max_length=120)),
                ("outcome", models.CharField(choices=[("open", "Open"), ("task", "Became a task"), ("declined", "Declined")], default="open", max_length=20)),
                ("outcome_reason", models.CharField(blank=True, max_length=200)),
            ],
            options={"verbose_name_plural": "advisories"},
        ),
        migrations.CreateModel(
            name="CheckItem",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("position", models.PositiveIntegerField()),
                ("text", models.CharField(max_length=300)),
                ("caution", models.TextField(blank=True)),
                (
                    "answer",
                    models.CharField(
                        choices=[("open", "Not looked at"), ("right", "In order"), ("not_fitted", "Not on this bike"), ("not_right", "Not right")],
                        default="open",
                        max_length=20,
                    ),
                ),
                ("note", models.CharField(blank=True, max_length=300)),
                ("answered_at", models.DateTimeField(blank=True, null=True)),
            ],
        ),
        migrations.CreateModel(
            name="CheckList",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("number", models.PositiveIntegerField()),
                ("made_at", models.DateTimeField()),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
            ],
        ),
        migrations.CreateModel(
            name="CheckPoint",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("position", models.PositiveIntegerField()),
                ("text", models.CharField(max_length=300)),
                ("caution", models.TextField(blank=True)),
                ("retired_at", models.DateTimeField(blank=True, null=True)),
            ],
        ),
        migrations.CreateModel(
            name="Hold",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[("parts", "Parts"), ("outside_work", "Outside work"), ("customer", "Customer"), ("approval", "Approval")], max_length=20
                    ),
                ),
                ("detail", models.CharField(max_length=200)),
                ("expected_on", models.DateField(blank=True, null=True)),
                ("since", models.DateTimeField()),
                ("released_at", models.DateTimeField(blank=True, null=True)),
                ("release_note", models.CharField(blank=True, max_length=200)),
            ],
        ),
        migrations.CreateModel(
            name="TaskTemplate",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=120, unique=True)),
                ("description", models.TextField(blank=True)),
                ("retired_at", models.DateTimeField(blank=True, null=True)),
            ],
        ),
        migrations.CreateModel(
            name="TemplateStep",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("position", models.PositiveIntegerField()),
                ("operation", models.CharField(max_length=200)),
                ("notes", models.TextField(blank=True)),
                ("caution", models.TextField(blank=True)),
                (
                    "labour_kind",
                    models.CharField(
                        choices=[
                            ("fault_finding", "Fault finding"),
                            ("repair", "Repair"),
                            ("restoration", "Restoration"),
                            ("service", "Service"),
                            ("check", "Check and road test"),
                        ],
                        default="restoration",
                        max_length=20,
                    ),
                ),
                ("optimistic_hours", models.DecimalField(decimal_places=2, max_digits=7)),
                ("likely_hours", models.DecimalField(decimal_places=2, max_digits=7)),
                ("pessimistic_hours", models.DecimalField(decimal_places=2, max_digits=7)),
            ],
        ),
        migrations.AddField(
            model_name="advisory",
            name="noticed_by",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name="advisory",
            name="task",
            field=models.OneToOneField(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name="advisory", to="shop.task"),
        ),
        migrations.AddField(
            model_name="advisory",
            name="told_by",
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name="advisory",
            name="work_order",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="advisories", to="shop.workorder"),
        ),
        migrations.AddField(
            model_name="checkitem",
            name="answered_by",
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name="checklist",
            name="work_order",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="check_lists", to="shop.workorder"),
        ),
        migrations.AddField(
            model_name="checkitem",
            name="check_list",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="items", to="shop.checklist"),
        ),
        migrations.AddConstraint(
            model_name="checkpoint", constraint=models.CheckConstraint(condition=models.Q(("text", ""), _negated=True), name="check_point_has_text")
        ),
        migrations.AddField(
            model_name="hold",
            name="placed_by",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name="hold",
            name="released_by",
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name="hold",
            name="task",
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name="holds", to="shop.task"),
        ),
        migrations.AddField(
            model_name="hold",
            name="work_order",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="holds", to="shop.workorder"),
        ),
        migrations.AddConstraint(
            model_name="tasktemplate", constraint=models.CheckConstraint(condition=models.Q(("name", ""), _negated=True), name="task_template_has_name")
        ),
        migrations.AddField(model_name="templatestep", name="after", field=models.ManyToManyField(related_name="before", to="shop.templatestep")),
        migrations.AddField(
            model_name="templatestep",
            name="template",
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="steps", to="shop.tasktemplate"),
        ),
        migrations.AddConstraint(
            model_name="advisory",
            constraint=models.CheckConstraint(condition=models.Q(("urgency__in", ["unsafe", "soon", "watch"])), name="advisory_urgency_known"),
        ),
        migrations.AddConstraint(
            model_name="advisory",
            constraint=models.CheckConstraint(condition=models.Q(("outcome__in", ["open", "task", "declined"])), name="advisory_outcome_known"),
        ),
        migrations.AddConstraint(
            model_name="advisory",
            constraint=models.CheckConstraint(
                condition=models.Q(models.Q(("what", ""), _negated=True), models.Q(("place", ""), _negated=True)), name="advisory_has_what_and_where"
            ),
        ),
        migrations.AddConstraint(
            model_name="advisory",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("told_at__isnull", True), ("told_by__isnull", True), ("told_how", "")),
                    models.Q(models.Q(("told_how", ""), _negated=True), ("told_at__isnull", False), ("told_by__isnull", False)),
                    _connector="OR",
                ),
                name="advisory_told_is_whole",
            ),
        ),
        migrations.AddConstraint(
            model_name="advisory",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("outcome", "task"), ("task__isnull", False)),
                    models.Q(models.Q(("outcome", "task"), _negated=True), ("task__isnull", True)),
                    _connector="OR",
                ),
                name="advisory_task_iff_became_one",
            ),
        ),
        migrations.AddConstraint(model_name="checklist", constraint=models.UniqueConstraint(fields=("work_order", "number"), name="check_list_number_once")),
        migrations.AddConstraint(
            model_name="checklist",
            constraint=models.UniqueConstraint(condition=models.Q(("ended_at__isnull", True)), fields=("work_order",), name="check_list_one_standing"),
        ),
        migrations.AddConstraint(
            model_name="checkitem",
            constraint=models.CheckConstraint(condition=models.Q(("answer__in", ["open", "right", "not_fitted", "not_right"])), name="check_item_answer_known"),
        ),
        migrations.AddConstraint(
            model_name="checkitem",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("answer", "open"), ("answered_at__isnull", True), ("answered_by__isnull", True)),
                    models.Q(models.Q(("answer", "open"), _negated=True), ("answered_at__isnull", False), ("answered_by__isnull", False)),
                    _connector="OR",
                ),
                name="check_item_answer_is_whole",
            ),
        ),
        migrations.AddIndex(
            model_name="hold", index=models.Index(condition=models.Q(("released_at__isnull", True)), fields=["work_order"], name="hold_standing")
        ),
        migrations.AddConstraint(
            model_name="hold",
            constraint=models.CheckConstraint(condition=models.Q(("kind__in", ["parts", "outside_work", "customer", "approval"])), name="hold_kind_known"),
        ),
        migrations.AddConstraint(
            model_name="hold", constraint=models.CheckConstraint(condition=models.Q(("detail", ""), _negated=True), name="hold_has_detail")
        ),
        migrations.AddConstraint(
            model_name="hold",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("release_note", ""), ("released_at__isnull", True), ("released_by__isnull", True)),
                    models.Q(("released_at__isnull", False), ("released_by__isnull", False)),
                    _connector="OR",
                ),
                name="hold_release_is_whole",
            ),
        ),
        migrations.AddConstraint(
            model_name="templatestep",
            constraint=models.CheckConstraint(
                condition=models.Q(("labour_kind__in", ["fault_finding", "repair", "restoration", "service", "check"])), name="template_step_kind_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="templatestep",
            constraint=models.CheckConstraint(condition=models.Q(("operation", ""), _negated=True), name="template_step_has_operation"),
        ),
        migrations.AddConstraint(
            model_name="templatestep",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("likely_hours__gte", models.F("optimistic_hours")),
                    ("optimistic_hours__gte", 0),
                    ("pessimistic_hours__gt", 0),
                    ("pessimistic_hours__gte", models.F("likely_hours")),
                ),
                name="template_step_hours_in_order",
            ),
        ),
    ]
