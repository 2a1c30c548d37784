"""The addresses of the shop's pages, named `shop:<noun>` and `shop:<noun>_<verb>`."""

from django.urls import URLPattern, path

from shop.web import account, links, paper, theme

app_name = "shop"

urlpatterns: list[URLPattern] = [
    path("me/", account.page, name="account"),
    path("theme/", theme.switch, name="theme"),
    *links.urlpatterns,
    *paper.urlpatterns,
]
