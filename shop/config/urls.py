"""Every address of the service."""

from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path
from django.views.generic import RedirectView
from drf_spectacular.views import SpectacularAPIView

from shop.api.nowhere import NowhereView
from shop.web import api_docs, health

urlpatterns: list[URLPattern | URLResolver] = [
    path("livez", health.livez, name="livez"),
    path("readyz", health.readyz, name="readyz"),
    # The owner keeps people's addresses, so the package's own page for them is shut.
    path(
        "account/email/",
        RedirectView.as_view(pattern_name="shop:account"),
        name="account_email",
    ),
    path(
        "account/sessions/",
        RedirectView.as_view(pattern_name="shop:sessions"),
        name="usersessions_list",
    ),
    path("account/", include("allauth.urls")),
    path("admin/", admin.site.urls),
    path("api/schema", SpectacularAPIView.as_view(), name="api-schema"),
    path("api/docs", api_docs.page, name="api-docs"),
    path("api/", include("shop.api.urls")),
    path("api/", include("diagnostics.api.urls")),
    path("api/<path:rest>", NowhereView.as_view(), name="api-nowhere"),
    path("", include("shop.web.urls")),
    path("", include("diagnostics.web.urls")),
]
