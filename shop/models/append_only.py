"""Guards in the database itself: rows that cannot be deleted or rewritten.

A migration takes the operations from here:

    operations = [
        *append_only("shop_historyentry"),
        *frozen_columns("shop_labourline", ["minutes", "hourly_rate"]),
    ]

The triggers hold against `QuerySet.update()`, the admin pages and hand-written
SQL alike; a blocked statement raises `IntegrityError` on SQLite and PostgreSQL.
On SQLite a later migration that alters a guarded table rebuilds it and so drops
its triggers: put the guard again at the end of that migration (a test counts them).
"""

import re
from collections.abc import Sequence

from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.operations.base import Operation
from django.db.migrations.state import ProjectState
from typing_extensions import override

_NAME = re.compile(r"[a-z][a-z0-9_]*")


class GuardTable(Operation):
    """Put one trigger on a table, in the words of the database at hand.

    Parameters
    ----------
    table : str
        Name of the table.
    statement : str
        ``DELETE`` or ``UPDATE``.
    columns : sequence of str
        With ``UPDATE``: the columns that may not change; none means all.
    """

    reversible = True
    elidable = False

    def __init__(self, table: str, statement: str, columns: Sequence[str] = ()) -> None:
        for name in (table, *columns):
            if not _NAME.fullmatch(name):
                raise ValueError(f"{name!r} is no table or column name of ours")
        if statement not in {"DELETE", "UPDATE"}:
            raise ValueError(f"no guard against {statement!r}")
        self.table = table
        self.statement = statement
        self.columns = tuple(columns)

    @property
    def trigger(self) -> str:
        """The trigger's name."""
        return f"guard_{self.table}_{self.statement.lower()}"

    @override
    def deconstruct(self) -> tuple[str, Sequence[object], dict[str, object]]:
        """Return how to write this operation down."""
        return (
            type(self).__name__,
            [self.table, self.statement, list(self.columns)],
            {},
        )

    @override
    def state_forwards(self, app_label: str, state: ProjectState) -> None:
        """Leave the models as they are: triggers are the database's own."""

    @override
    def database_forwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        """Create the trigger; one that stands already is replaced."""
        self._take_away(schema_editor)
        for sql in self._sql(schema_editor.connection.vendor):
            schema_editor.execute(sql)

    @override
    def database_backwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        """Take the trigger away."""
        self._take_away(schema_editor)

    @override
    def describe(self) -> str:
        """Say what this does."""
        what = ", ".join(self.columns) or "any column"
        return f"Guard {self.table} against {self.statement} ({what})"

    @property
    @override
    def migration_name_fragment(self) -> str:
        """What to call a migration after this."""
        return self.trigger

    def _take_away(self, schema_editor: BaseDatabaseSchemaEditor) -> None:
        if schema_editor.connection.vendor == "postgresql":
            schema_editor.execute(
                f'DROP TRIGGER IF EXISTS "{self.trigger}" ON "{self.table}"'
            )
            schema_editor.execute(f'DROP FUNCTION IF EXISTS "{self.trigger}"()')
        else:
            schema_editor.execute(f'DROP TRIGGER IF EXISTS "{self.trigger}"')

    def _sql(self, vendor: str) -> list[str]:
        of = f" OF {', '.join(self.columns)}" if self.columns else ""
        message = f"{self.table} is append-only"
        before = f'BEFORE {self.statement}{of} ON "{self.table}"'
        if vendor == "sqlite":
            body = f"BEGIN SELECT RAISE(ABORT, '{message}'); END"
            return [f'CREATE TRIGGER "{self.trigger}" {before} {body}']
        if vendor == "postgresql":
            refuse = (
                f"BEGIN RAISE EXCEPTION '{message}' "
                "USING ERRCODE = 'integrity_constraint_violation'; END"
            )
            head = f'CREATE FUNCTION "{self.trigger}"() RETURNS trigger'
            each = f'FOR EACH ROW EXECUTE FUNCTION "{self.trigger}"()'
            return [
                f"{head} LANGUAGE plpgsql AS $$ {refuse} $$",
                f'CREATE TRIGGER "{self.trigger}" {before} {each}',
            ]
        raise ValueError(f"no guard is written for {vendor}")


def append_only(table: str) -> list[GuardTable]:
    """Return guards against every update and delete of a table's rows."""
    return [GuardTable(table, "UPDATE"), GuardTable(table, "DELETE")]


def frozen_columns(table: str, columns: Sequence[str]) -> list[GuardTable]:
    """Return guards against deletes and against updates of these columns."""
    if not columns:
        raise ValueError("name the columns, or use append_only")
    return [GuardTable(table, "UPDATE", columns), GuardTable(table, "DELETE")]
