"""Measurements judged against limits, and their voids; both are append-only."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from shop.models.append_only import append_only


class Migration(migrations.Migration):

    dependencies = [
        ('diagnostics', '0003_clamp_and_moving'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='Measurement',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('sequence', models.PositiveIntegerField()),
                ('repairs_before', models.PositiveIntegerField()),
                ('key', models.CharField(max_length=120)),
                ('kind', models.CharField(max_length=40)),
                ('readings', models.JSONField()),
                ('verdict', models.CharField(max_length=16)),
                ('judgement', models.JSONField()),
                ('note', models.CharField(blank=True, max_length=400)),
                ('taken_at', models.DateTimeField()),
                ('case', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='measurements', to='diagnostics.case')),
                ('taken_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
        ),
        migrations.CreateModel(
            name='MeasurementVoid',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('reason', models.CharField(max_length=400)),
                ('voided_at', models.DateTimeField()),
                ('measurement', models.OneToOneField(on_delete=django.db.models.deletion.PROTECT, related_name='void', to='diagnostics.measurement')),
                ('voided_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
        ),
        migrations.AddConstraint(
            model_name='measurement',
            constraint=models.UniqueConstraint(fields=('case', 'sequence'), name='measurement_sequence_once_a_case'),
        ),
        migrations.AddConstraint(
            model_name='measurement',
            constraint=models.UniqueConstraint(fields=('case', 'key'), name='measurement_key_once_a_case'),
        ),
        migrations.AddConstraint(
            model_name='measurement',
            constraint=models.CheckConstraint(condition=models.Q(('verdict__in', ['good', 'look-further', 'fault'])), name='measurement_verdict_known'),
        ),
        migrations.AddConstraint(
            model_name='measurement',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('kind', ''), _negated=True), models.Q(('key', ''), _negated=True)), name='measurement_says_what_was_measured'),
        ),
        migrations.AddConstraint(
            model_name='measurementvoid',
            constraint=models.CheckConstraint(condition=models.Q(('reason', ''), _negated=True), name='measurement_void_has_a_reason'),
        ),
        *append_only("diagnostics_measurement"),
        *append_only("diagnostics_measurementvoid"),
    ]
