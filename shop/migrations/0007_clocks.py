"""Clocks and rates by kind; who bears a labour line; how time is rounded."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from shop.models.append_only import frozen_columns

LABOUR_COLUMNS = [
    "id",
    "work_order_id",
    "technician_id",
    "technician_name",
    "kind",
    "description",
    "done_on",
    "minutes",
    "hourly_rate",
    "tax_label",
    "tax_percent",
    "created_at",
    "task_id",
    "clock_id",
    "billing",
    "entry_reason",
]
CLOCK_COLUMNS = [
    "id",
    "task_id",
    "technician_id",
    "kind",
    "billing",
    "hourly_rate",
    "started_at",
]


class Migration(migrations.Migration):

    dependencies = [
        ('shop', '0006_holds'),
    ]

    operations = [
        migrations.CreateModel(
            name='Clock',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('fault_finding', 'Fault finding'), ('repair', 'Repair'), ('restoration', 'Restoration'), ('service', 'Service'), ('check', 'Check and road test')], max_length=20)),
                ('billing', models.CharField(choices=[('billable', 'Billable'), ('goodwill', 'Goodwill'), ('warranty', 'Warranty')], max_length=20)),
                ('note', models.CharField(blank=True, max_length=400)),
                ('hourly_rate', models.DecimalField(decimal_places=4, max_digits=14)),
                ('started_at', models.DateTimeField()),
                ('stopped_at', models.DateTimeField(blank=True, null=True)),
                ('correction_reason', models.CharField(blank=True, help_text='Why its end was written by hand.', max_length=200)),
            ],
        ),
        migrations.CreateModel(
            name='LabourRate',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('fault_finding', 'Fault finding'), ('repair', 'Repair'), ('restoration', 'Restoration'), ('service', 'Service'), ('check', 'Check and road test')], max_length=20)),
                ('hourly_rate', models.DecimalField(decimal_places=4, max_digits=14)),
            ],
        ),
        migrations.AddField(
            model_name='labourline',
            name='billing',
            field=models.CharField(choices=[('billable', 'Billable'), ('goodwill', 'Goodwill'), ('warranty', 'Warranty')], default='billable', max_length=20),
        ),
        migrations.AddField(
            model_name='labourline',
            name='entry_reason',
            field=models.CharField(blank=True, help_text='Why it was entered by hand.', max_length=200),
        ),
        migrations.AddField(
            model_name='labourline',
            name='task',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='labour_lines', to='shop.task'),
        ),
        migrations.AddField(
            model_name='shopsettings',
            name='clock_limit_hours',
            field=models.PositiveSmallIntegerField(default=10, help_text='A clock that runs longer counts as forgotten.'),
        ),
        migrations.AddField(
            model_name='shopsettings',
            name='time_minimum_minutes',
            field=models.PositiveSmallIntegerField(default=0),
        ),
        migrations.AddField(
            model_name='shopsettings',
            name='time_rounding',
            field=models.CharField(choices=[('none', 'not rounded: whole minutes as they were'), ('up', 'up to the next step'), ('nearest', 'to the nearest step')], default='none', max_length=10),
        ),
        migrations.AddField(
            model_name='shopsettings',
            name='time_step_minutes',
            field=models.PositiveSmallIntegerField(default=6),
        ),
        migrations.AddConstraint(
            model_name='shopsettings',
            constraint=models.CheckConstraint(condition=models.Q(('time_rounding__in', ['none', 'up', 'nearest'])), name='shop_settings_time_rounding'),
        ),
        migrations.AddConstraint(
            model_name='shopsettings',
            constraint=models.CheckConstraint(condition=models.Q(('time_step_minutes__in', (5, 6, 10, 15))), name='shop_settings_time_step'),
        ),
        migrations.AddConstraint(
            model_name='shopsettings',
            constraint=models.CheckConstraint(condition=models.Q(('time_minimum_minutes__lte', 240)), name='shop_settings_time_minimum'),
        ),
        migrations.AddConstraint(
            model_name='shopsettings',
            constraint=models.CheckConstraint(condition=models.Q(('clock_limit_hours__gte', 1), ('clock_limit_hours__lte', 24)), name='shop_settings_clock_limit'),
        ),
        migrations.AddField(
            model_name='clock',
            name='task',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='clocks', to='shop.task'),
        ),
        migrations.AddField(
            model_name='clock',
            name='technician',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name='labourline',
            name='clock',
            field=models.ForeignKey(blank=True, help_text='The clock it comes from; none where it was entered by hand.', null=True, on_delete=django.db.models.deletion.PROTECT, related_name='labour_lines', to='shop.clock'),
        ),
        migrations.AddIndex(
            model_name='labourline',
            index=models.Index(fields=['technician', 'done_on'], name='labour_by_day'),
        ),
        migrations.AddConstraint(
            model_name='labourline',
            constraint=models.CheckConstraint(condition=models.Q(('billing__in', ['billable', 'goodwill', 'warranty'])), name='labour_billing_known'),
        ),
        migrations.AddField(
            model_name='labourrate',
            name='technician',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='labour_rates', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddIndex(
            model_name='clock',
            index=models.Index(fields=['technician', 'started_at'], name='clock_by_day'),
        ),
        migrations.AddConstraint(
            model_name='clock',
            constraint=models.UniqueConstraint(condition=models.Q(('stopped_at__isnull', True)), fields=('technician',), name='clock_one_running'),
        ),
        migrations.AddConstraint(
            model_name='clock',
            constraint=models.CheckConstraint(condition=models.Q(('stopped_at__isnull', True), ('stopped_at__gte', models.F('started_at')), _connector='OR'), name='clock_stops_after_start'),
        ),
        migrations.AddConstraint(
            model_name='clock',
            constraint=models.CheckConstraint(condition=models.Q(('correction_reason', ''), ('stopped_at__isnull', False), _connector='OR'), name='clock_corrected_is_stopped'),
        ),
        migrations.AddConstraint(
            model_name='clock',
            constraint=models.CheckConstraint(condition=models.Q(('kind__in', ['fault_finding', 'repair', 'restoration', 'service', 'check'])), name='clock_kind_known'),
        ),
        migrations.AddConstraint(
            model_name='clock',
            constraint=models.CheckConstraint(condition=models.Q(('billing__in', ['billable', 'goodwill', 'warranty'])), name='clock_billing_known'),
        ),
        migrations.AddConstraint(
            model_name='clock',
            constraint=models.CheckConstraint(condition=models.Q(('hourly_rate__gte', 0)), name='clock_rate_not_negative'),
        ),
        migrations.AddConstraint(
            model_name='labourrate',
            constraint=models.UniqueConstraint(fields=('technician', 'kind'), name='labour_rate_once'),
        ),
        migrations.AddConstraint(
            model_name='labourrate',
            constraint=models.UniqueConstraint(condition=models.Q(('technician__isnull', True)), fields=('kind',), name='labour_rate_of_shop_once'),
        ),
        migrations.AddConstraint(
            model_name='labourrate',
            constraint=models.CheckConstraint(condition=models.Q(('kind__in', ['fault_finding', 'repair', 'restoration', 'service', 'check'])), name='labour_rate_kind_known'),
        ),
        migrations.AddConstraint(
            model_name='labourrate',
            constraint=models.CheckConstraint(condition=models.Q(('hourly_rate__gte', 0)), name='labour_rate_kept_not_negative'),
        ),
        *frozen_columns("shop_labourline", LABOUR_COLUMNS),
        *frozen_columns("shop_clock", CLOCK_COLUMNS),
    ]
