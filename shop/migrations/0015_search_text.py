"""Where there is PostgreSQL: what tags and tasks say is found by three letters.

The expression is the one that `shop/selectors/search.py` compares with, so that the
index is used; tests/shop/selectors/test_search_postgres.py holds the two together.
SQLite looks through forty thousand tags fast enough without.
"""

from django.db import migrations
from django.db.models import F, TextField, Value
from django.db.models.functions import Concat, Upper
from django.db.models.sql import Query

TEXTS = {
    "striptag": ("name", "place", "shelf", "condition_note"),
    "task": ("operation", "notes"),
}


def add(apps, schema_editor):
    connection = schema_editor.connection
    if connection.vendor != "postgresql":
        return
    schema_editor.execute("CREATE EXTENSION IF NOT EXISTS pg_trgm")
    for name, columns in TEXTS.items():
        model = apps.get_model("shop", name)
        pieces = [piece for column in columns for piece in (F(column), Value(" "))]
        query = Query(model)
        text = Upper(Concat(*pieces, output_field=TextField()))
        compiler = query.get_compiler(connection=connection)
        sql, params = compiler.compile(text.resolve_expression(query))
        quoted = tuple(schema_editor.quote_value(value) for value in params)
        schema_editor.execute(
            f"CREATE INDEX {name}_search_text ON {model._meta.db_table} "
            f"USING gin (({sql % quoted}) gin_trgm_ops)"
        )


def remove(apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        for name in TEXTS:
            schema_editor.execute(f"DROP INDEX IF EXISTS {name}_search_text")


class Migration(migrations.Migration):
    dependencies = [("shop", "0014_tag_labels")]
    operations = [migrations.RunPython(add, remove)]
