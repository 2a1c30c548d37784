"""Who may do what: the one table that the web, the API and the actions read."""

from dataclasses import dataclass
from enum import StrEnum

from shop.domain.refusals import NotAllowed


class Role(StrEnum):
    """What somebody is in the shop."""

    OWNER = "owner"
    FRONT_DESK = "front_desk"
    TECHNICIAN = "technician"
    STOREKEEPER = "storekeeper"


ROLE_LABELS: dict[Role, str] = {
    Role.OWNER: "Owner",
    Role.FRONT_DESK: "Front desk",
    Role.TECHNICIAN: "Technician",
    Role.STOREKEEPER: "Storekeeper",
}


# Who sees and takes the customers' money: their accounts are worth the most to a thief.
HANDLES_MONEY = frozenset({Role.OWNER, Role.FRONT_DESK})


class Act(StrEnum):
    """One thing that a role may or may not do."""

    SEE_SHOP = "see_shop"
    SEE_CUSTOMERS = "see_customers"
    KEEP_CUSTOMERS = "keep_customers"
    KEEP_BIKES = "keep_bikes"
    BOOK_IN = "book_in"
    EDIT_WORK_ORDER = "edit_work_order"
    ESTIMATE = "estimate"
    RECORD_APPROVAL = "record_approval"
    WORK_ON_BENCH = "work_on_bench"
    DO_FINAL_CHECK = "do_final_check"
    HAND_OVER = "hand_over"
    CALL_OFF = "call_off"
    PLAN_TASKS = "plan_tasks"
    KEEP_HOLDS = "keep_holds"
    KEEP_TEMPLATES = "keep_templates"
    BOOK_LABOUR = "book_labour"
    BOOK_LABOUR_FOR_OTHERS = "book_labour_for_others"
    KEEP_PARTS_LIST = "keep_parts_list"
    BOOK_PARTS = "book_parts"
    KEEP_TAGS = "keep_tags"
    KEEP_SUPPLIERS = "keep_suppliers"
    ARRANGE_OUTSIDE_WORK = "arrange_outside_work"
    KEEP_ATTACHMENTS = "keep_attachments"
    FIND_FAULTS = "find_faults"
    KEEP_LOOM_LIBRARY = "keep_loom_library"
    REQUEST_PAPER = "request_paper"
    SHARE_WITH_CUSTOMER = "share_with_customer"
    PLAN_WORK = "plan_work"
    KEEP_WORKING_HOURS = "keep_working_hours"
    KEEP_PEOPLE = "keep_people"
    KEEP_SHOP_SETTINGS = "keep_shop_settings"


_FRONT_DESK = frozenset(
    {
        Act.SEE_SHOP,
        Act.SEE_CUSTOMERS,
        Act.KEEP_CUSTOMERS,
        Act.KEEP_BIKES,
        Act.BOOK_IN,
        Act.EDIT_WORK_ORDER,
        Act.ESTIMATE,
        Act.PLAN_TASKS,
        Act.KEEP_HOLDS,
        Act.RECORD_APPROVAL,
        Act.HAND_OVER,
        Act.CALL_OFF,
        Act.BOOK_LABOUR_FOR_OTHERS,
        Act.BOOK_PARTS,
        Act.KEEP_TAGS,
        Act.KEEP_SUPPLIERS,
        Act.ARRANGE_OUTSIDE_WORK,
        Act.KEEP_ATTACHMENTS,
        Act.REQUEST_PAPER,
        Act.SHARE_WITH_CUSTOMER,
        Act.PLAN_WORK,
        Act.KEEP_WORKING_HOURS,
    }
)
_TECHNICIAN = frozenset(
    {
        Act.SEE_SHOP,
        Act.SEE_CUSTOMERS,
        Act.KEEP_BIKES,
        Act.BOOK_IN,
        Act.EDIT_WORK_ORDER,
        Act.ESTIMATE,
        Act.PLAN_TASKS,
        Act.KEEP_HOLDS,
        Act.WORK_ON_BENCH,
        Act.DO_FINAL_CHECK,
        Act.BOOK_LABOUR,
        Act.BOOK_PARTS,
        Act.KEEP_TAGS,
        Act.KEEP_ATTACHMENTS,
        Act.FIND_FAULTS,
        Act.KEEP_LOOM_LIBRARY,
        Act.REQUEST_PAPER,
        Act.PLAN_WORK,
    }
)
_STOREKEEPER = frozenset(
    {
        Act.SEE_SHOP,
        Act.KEEP_PARTS_LIST,
        Act.KEEP_HOLDS,
        Act.BOOK_PARTS,
        Act.KEEP_TAGS,
        Act.KEEP_SUPPLIERS,
        Act.ARRANGE_OUTSIDE_WORK,
        Act.KEEP_ATTACHMENTS,
    }
)

PERMISSIONS: dict[Role, frozenset[Act]] = {
    Role.OWNER: frozenset(Act),
    Role.FRONT_DESK: _FRONT_DESK,
    Role.TECHNICIAN: _TECHNICIAN,
    Role.STOREKEEPER: _STOREKEEPER,
}


@dataclass(frozen=True, slots=True)
class Viewer:
    """Who is looking: what selectors and seams need to know, no more."""

    user_id: int
    name: str
    role: Role

    def may(self, act: Act) -> bool:
        """Say whether this viewer's role includes the act."""
        return may(self.role, act)

    def demand(self, act: Act) -> None:
        """Refuse unless this viewer's role includes the act."""
        demand(self.role, act)


def may(role: Role, act: Act) -> bool:
    """Say whether the role includes the act.

    Examples
    --------
    >>> may(Role.STOREKEEPER, Act.KEEP_PARTS_LIST)
    True
    >>> may(Role.STOREKEEPER, Act.KEEP_CUSTOMERS)
    False
    """
    return act in PERMISSIONS[role]


def demand(role: Role, act: Act) -> None:
    """Refuse unless the role includes the act.

    Raises
    ------
    NotAllowed
        Names the roles that may.
    """
    if may(role, act):
        return
    allowed = ", ".join(ROLE_LABELS[other].lower() for other in Role if may(other, act))
    what = act.value.replace("_", " ")
    raise NotAllowed(
        "not-allowed",
        f"Your role ({ROLE_LABELS[role].lower()}) may not {what}. "
        f"Ask somebody who may: {allowed}.",
    )
