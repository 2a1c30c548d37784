"""Who may come in where: one row for each route, by its name.

An act of the role table, or several of which one is enough; "anyone"; "signed in" for
every role; "customer" for the holder of a private link, whom no role replaces; "not
ours" for a library's own pages that its tests cover. Two of them stand for looking
(GET) and for doing (all else). A name that ends in `*` stands for all that begin so.
"""

from typing import Literal

from shop.domain.roles import Act

Door = Act | frozenset[Act] | Literal["anyone", "signed in", "customer", "not ours"]
Doors = dict[str, Door | tuple[Door, Door]]

_BOOKING = frozenset({Act.BOOK_LABOUR, Act.BOOK_LABOUR_FOR_OTHERS})

_SHOP: Doors = {
    "shop:today": Act.SEE_SHOP,
    "shop:account": "signed in",
    "shop:theme": "anyone",
    "shop:customers": Act.SEE_CUSTOMERS,
    "shop:customer": Act.SEE_CUSTOMERS,
    "shop:customer_add": Act.KEEP_CUSTOMERS,
    "shop:customer_edit": Act.KEEP_CUSTOMERS,
    "shop:bikes": Act.SEE_SHOP,
    "shop:bike": Act.SEE_SHOP,
    "shop:bike_add": Act.KEEP_BIKES,
    "shop:bike_edit": Act.KEEP_BIKES,
    "shop:bike_pass_on": Act.KEEP_CUSTOMERS,
    "shop:work_orders": Act.SEE_SHOP,
    "shop:work_order": Act.SEE_SHOP,
    "shop:work_order_new": Act.BOOK_IN,
    "shop:work_order_book_in": Act.BOOK_IN,
    "shop:work_order_edit": Act.EDIT_WORK_ORDER,
    "shop:work_order_move": Act.WORK_ON_BENCH,
    "shop:labour_add": _BOOKING,
    "shop:labour_void": _BOOKING,
    "shop:part_line_add": Act.BOOK_PARTS,
    "shop:part_line_void": Act.BOOK_PARTS,
    "shop:parts": Act.SEE_SHOP,
    "shop:part": Act.SEE_SHOP,
    "shop:part_add": Act.KEEP_PARTS_LIST,
    "shop:part_edit": Act.KEEP_PARTS_LIST,
    "shop:people": Act.KEEP_PEOPLE,
    "shop:person*": Act.KEEP_PEOPLE,
    "shop:settings": Act.KEEP_SHOP_SETTINGS,
    "shop:permissions": Act.KEEP_SHOP_SETTINGS,
    "shop:tax_rate*": Act.KEEP_SHOP_SETTINGS,
    "shop:paper": Act.SEE_CUSTOMERS,
    "shop:paper_panel": Act.SEE_CUSTOMERS,
    "shop:paper_list": Act.SEE_CUSTOMERS,
    "shop:paper_file": Act.SEE_CUSTOMERS,
    "shop:paper_request": Act.REQUEST_PAPER,
    "shop:paper_retry": Act.REQUEST_PAPER,
    "shop:links": Act.SEE_CUSTOMERS,
    "shop:link_make": Act.SHARE_WITH_CUSTOMER,
    "shop:link_revoke": Act.SHARE_WITH_CUSTOMER,
    "shop:link_enter": "anyone",
    "shop:link_leave": "anyone",
    "shop:customer_paper*": "customer",
}

_BENCH: Doors = {
    "diagnostics:harness_files": Act.SEE_SHOP,
    "diagnostics:harness_file": Act.SEE_SHOP,
    "diagnostics:harness_file_add": Act.KEEP_LOOM_LIBRARY,
    "diagnostics:cases": Act.SEE_SHOP,
    "diagnostics:case": Act.SEE_SHOP,
    "diagnostics:beliefs": Act.SEE_SHOP,
    "diagnostics:explanation": Act.SEE_SHOP,
    "diagnostics:case_*": Act.FIND_FAULTS,
    "diagnostics:complaint": Act.FIND_FAULTS,
    "diagnostics:finding_*": Act.FIND_FAULTS,
    "diagnostics:repair_new": Act.FIND_FAULTS,
    "diagnostics:measurements": Act.SEE_SHOP,
    "diagnostics:measurement": Act.SEE_SHOP,
    "diagnostics:measurement_*": Act.FIND_FAULTS,
}

_API: Doors = {
    "api-schema": "signed in",
    "api-docs": "signed in",
    "api-token": "anyone",
    "api-me": "signed in",
    "api-own-token": "signed in",
    "api-board": Act.SEE_SHOP,
    "api-customers": (Act.SEE_CUSTOMERS, Act.KEEP_CUSTOMERS),
    "api-customer": (Act.SEE_CUSTOMERS, Act.KEEP_CUSTOMERS),
    "api-bikes": (Act.SEE_SHOP, Act.KEEP_BIKES),
    "api-bike": (Act.SEE_SHOP, Act.KEEP_BIKES),
    "api-bike-owner": Act.KEEP_CUSTOMERS,
    "api-work-orders": (Act.SEE_SHOP, Act.BOOK_IN),
    "api-work-order": (Act.SEE_SHOP, Act.EDIT_WORK_ORDER),
    "api-events": (Act.SEE_SHOP, "signed in"),
    "api-history": Act.SEE_SHOP,
    "api-work-order-labour": (Act.SEE_SHOP, _BOOKING),
    "api-work-order-part-lines": (Act.SEE_SHOP, Act.BOOK_PARTS),
    "api-labour-line": Act.SEE_SHOP,
    "api-labour-void": _BOOKING,
    "api-part-line": Act.SEE_SHOP,
    "api-part-line-void": Act.BOOK_PARTS,
    "api-parts": (Act.SEE_SHOP, Act.KEEP_PARTS_LIST),
    "api-part": (Act.SEE_SHOP, Act.KEEP_PARTS_LIST),
    "api-tax-rates": Act.SEE_SHOP,
    "api-work-order-paper": (Act.SEE_CUSTOMERS, Act.REQUEST_PAPER),
    "api-paper": Act.SEE_CUSTOMERS,
    "api-paper-file": Act.SEE_CUSTOMERS,
    "api-paper-retry": Act.REQUEST_PAPER,
    "api-customer-links": (Act.SEE_CUSTOMERS, Act.SHARE_WITH_CUSTOMER),
    "api-link-revoke": Act.SHARE_WITH_CUSTOMER,
    "api-nowhere": "anyone",
    "diagnostics_api:harness_files": (Act.SEE_SHOP, Act.KEEP_LOOM_LIBRARY),
    "diagnostics_api:harness_file": Act.SEE_SHOP,
    "diagnostics_api:cases": (Act.SEE_SHOP, Act.FIND_FAULTS),
    "diagnostics_api:case": Act.SEE_SHOP,
    "diagnostics_api:advice": Act.SEE_SHOP,
    "diagnostics_api:belief*": Act.SEE_SHOP,
    "diagnostics_api:explanation": Act.SEE_SHOP,
    "diagnostics_api:complaint": (Act.SEE_SHOP, Act.FIND_FAULTS),
    "diagnostics_api:findings": (Act.SEE_SHOP, Act.FIND_FAULTS),
    "diagnostics_api:repairs": (Act.SEE_SHOP, Act.FIND_FAULTS),
    "diagnostics_api:measurements": (Act.SEE_SHOP, Act.FIND_FAULTS),
    "diagnostics_api:measurement_kinds": Act.SEE_SHOP,
    "diagnostics_api:measurement": Act.SEE_SHOP,
    "diagnostics_api:measurement_void": Act.FIND_FAULTS,
    "diagnostics_api:proof": (Act.SEE_SHOP, Act.FIND_FAULTS),
    "diagnostics_api:give_up": Act.FIND_FAULTS,
    "diagnostics_api:reopen": Act.FIND_FAULTS,
    "diagnostics_api:finding_*": Act.FIND_FAULTS,
}

DOORS: Doors = {
    "livez": "anyone",
    "readyz": "anyone",
    "admin:*": "not ours",
    "account_*": "not ours",
    "mfa_*": "not ours",
    **_SHOP,
    **_BENCH,
    **_API,
}
