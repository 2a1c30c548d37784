"""History is append-only; labour and part lines may be voided, nothing else."""

from django.db import migrations

from shop.models.append_only import append_only, frozen_columns

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
]
PART_COLUMNS = [
    "id",
    "work_order_id",
    "part_id",
    "number",
    "description",
    "condition",
    "unit",
    "quantity",
    "price",
    "tax_label",
    "tax_percent",
    "added_by_id",
    "created_at",
]
TAX_COLUMNS = ["id", "label", "percent"]


class Migration(migrations.Migration):
    """Put the triggers."""

    dependencies = [("shop", "0001_initial")]

    operations = [
        *append_only("shop_historyentry"),
        *frozen_columns("shop_labourline", LABOUR_COLUMNS),
        *frozen_columns("shop_partline", PART_COLUMNS),
        *frozen_columns("shop_taxrate", TAX_COLUMNS),
    ]
