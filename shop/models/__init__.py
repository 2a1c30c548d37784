"""Tables of the shop; each noun has its own module."""

from shop.models.bikes import Bike
from shop.models.counters import Counter
from shop.models.customers import Customer
from shop.models.history import HistoryEntry
from shop.models.labour import LabourLine
from shop.models.links import CustomerLink
from shop.models.paper import PaperRequest
from shop.models.part_lines import PartLine
from shop.models.parts import Part
from shop.models.people import User
from shop.models.shop_settings import ShopSettings
from shop.models.strip_tags import StripTag
from shop.models.suppliers import Supplier
from shop.models.tasks import Task, TaskDependency
from shop.models.tax_rates import TaxRate
from shop.models.work_orders import WorkOrder

__all__ = [
    "Bike",
    "Counter",
    "Customer",
    "CustomerLink",
    "HistoryEntry",
    "LabourLine",
    "PaperRequest",
    "Part",
    "PartLine",
    "ShopSettings",
    "StripTag",
    "Supplier",
    "Task",
    "TaskDependency",
    "TaxRate",
    "User",
    "WorkOrder",
]
