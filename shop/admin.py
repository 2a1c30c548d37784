"""The admin pages: a look into the tables, and nothing more.

Whatever is written goes through an action, which checks the role and leaves a
history row; the admin pages would do neither, so here nothing can be changed.
"""

from typing import TYPE_CHECKING, Any

from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest
from typing_extensions import override

from shop import models

if TYPE_CHECKING:
    Look = admin.ModelAdmin[Any]
else:
    # At run time the class takes no type.
    Look = admin.ModelAdmin


class LookOnly(Look):
    """Shows rows; adds, changes and deletes none."""

    @override
    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    @override
    def has_change_permission(
        self, request: HttpRequest, obj: Model | None = None
    ) -> bool:
        return False

    @override
    def has_delete_permission(
        self, request: HttpRequest, obj: Model | None = None
    ) -> bool:
        return False


@admin.register(models.User)
class UserAdmin(LookOnly):
    list_display = ("username", "role", "is_active", "last_login")
    list_filter = ("role", "is_active")
    exclude = ("password",)


@admin.register(models.Customer)
class CustomerAdmin(LookOnly):
    list_display = ("name", "phone", "email")
    search_fields = ("name", "phone", "email")


@admin.register(models.Bike)
class BikeAdmin(LookOnly):
    list_display = ("name", "registration", "frame_number", "owner")
    list_select_related = ("owner",)
    search_fields = ("maker", "model", "registration", "frame_number")


@admin.register(models.WorkOrder)
class WorkOrderAdmin(LookOnly):
    list_display = ("label", "state", "bike", "customer", "technician")
    list_filter = ("state",)
    list_select_related = ("bike", "customer", "technician")


@admin.register(models.LabourLine)
class LabourLineAdmin(LookOnly):
    list_display = ("work_order", "technician_name", "minutes", "voided_at")
    list_select_related = ("work_order",)


@admin.register(models.PartLine)
class PartLineAdmin(LookOnly):
    list_display = ("work_order", "number", "quantity", "price", "voided_at")
    list_select_related = ("work_order",)


@admin.register(models.Part)
class PartAdmin(LookOnly):
    list_display = ("number", "description", "condition", "price", "is_retired")
    list_filter = ("condition", "is_retired")
    search_fields = ("number", "description")


@admin.register(models.HistoryEntry)
class HistoryEntryAdmin(LookOnly):
    list_display = ("at", "actor_name", "verb", "summary")
    list_filter = ("verb",)
    date_hierarchy = "at"


admin.site.register([models.TaxRate, models.ShopSettings, models.Counter], LookOnly)
