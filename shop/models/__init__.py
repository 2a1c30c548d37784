"""Tables of the shop; each noun has its own module."""

from shop.models.absences import Absence
from shop.models.advisories import Advisory
from shop.models.attachments import Attachment
from shop.models.bikes import Bike
from shop.models.check_lists import CheckItem, CheckList, CheckPoint
from shop.models.clocks import Clock
from shop.models.contacts import Contact
from shop.models.counters import Counter
from shop.models.customers import Customer
from shop.models.history import HistoryEntry
from shop.models.holds import Hold
from shop.models.labour import LabourLine
from shop.models.labour_rates import LabourRate
from shop.models.links import CustomerLink
from shop.models.odometer_readings import OdometerReading
from shop.models.outside_work import OutsideTag, OutsideWork
from shop.models.ownerships import Ownership
from shop.models.paper import PaperRequest
from shop.models.part_lines import PartLine
from shop.models.parts import Part
from shop.models.people import User
from shop.models.plans import Plan, PlanLine
from shop.models.shop_settings import ShopSettings
from shop.models.sign_in_rules import SignInRules
from shop.models.strip_tags import StripTag
from shop.models.suppliers import Supplier
from shop.models.task_templates import TaskTemplate, TemplateStep
from shop.models.tasks import Task, TaskDependency
from shop.models.tax_rates import TaxRate
from shop.models.work_orders import WorkOrder
from shop.models.working_hours import WorkingHours

__all__ = [
    "Absence",
    "Advisory",
    "Attachment",
    "Bike",
    "CheckItem",
    "CheckList",
    "CheckPoint",
    "Clock",
    "Contact",
    "Counter",
    "Customer",
    "CustomerLink",
    "HistoryEntry",
    "Hold",
    "LabourLine",
    "LabourRate",
    "OdometerReading",
    "OutsideTag",
    "OutsideWork",
    "Ownership",
    "PaperRequest",
    "Part",
    "PartLine",
    "Plan",
    "PlanLine",
    "ShopSettings",
    "SignInRules",
    "StripTag",
    "Supplier",
    "Task",
    "TaskDependency",
    "TaskTemplate",
    "TaxRate",
    "TemplateStep",
    "User",
    "WorkOrder",
    "WorkingHours",
]
