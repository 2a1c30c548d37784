"""Who may come in where: one row for each route, by its name.

An act of the role table; "anyone"; "signed in" for every role; "customer" for the
holder of a private link, whom no role replaces; "not ours" for a library's own pages
that its tests cover. A name that ends in `*` stands for all that begin like it.
"""

from typing import Literal

from shop.domain.roles import Act

Door = Act | Literal["anyone", "signed in", "customer", "not ours"]

DOORS: dict[str, Door] = {
    "livez": "anyone",
    "readyz": "anyone",
    "admin:*": "not ours",
}
