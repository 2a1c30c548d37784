"""The addresses of the shop's pages, named `shop:<noun>` and `shop:<noun>_<verb>`."""

from django.urls import URLPattern, path

from shop.web import (
    account,
    bikes,
    contacts,
    customers,
    labour,
    links,
    moves,
    odometer_readings,
    ownerships,
    paper,
    part_lines,
    parts,
    people,
    search,
    second_steps,
    sessions,
    shop_settings,
    tax_rates,
    theme,
    timeline,
    today,
    work_orders,
)

app_name = "shop"

urlpatterns: list[URLPattern] = [
    path("", today.page, name="today"),
    path("me/", account.page, name="account"),
    path("theme/", theme.switch, name="theme"),
    *customers.urlpatterns,
    *contacts.urlpatterns,
    *bikes.urlpatterns,
    *ownerships.urlpatterns,
    *odometer_readings.urlpatterns,
    *timeline.urlpatterns,
    *work_orders.urlpatterns,
    *moves.urlpatterns,
    *labour.urlpatterns,
    *part_lines.urlpatterns,
    *parts.urlpatterns,
    *people.urlpatterns,
    *shop_settings.urlpatterns,
    *tax_rates.urlpatterns,
    *paper.urlpatterns,
    *links.urlpatterns,
    *search.urlpatterns,
    *second_steps.urlpatterns,
    *sessions.urlpatterns,
]
