"""What a belief says of the test to be sure, and of changing the part now."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('diagnostics', '0004_measurements'),
    ]

    operations = [
        migrations.AddField(
            model_name='belief',
            name='confirming',
            field=models.JSONField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='belief',
            name='stopping',
            field=models.JSONField(blank=True, null=True),
        ),
    ]
