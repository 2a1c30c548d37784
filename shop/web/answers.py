"""How pages answer: a form page, and going on with a word of what was done."""

from http import HTTPStatus
from typing import Any

from django.contrib import messages
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

take = require_http_methods(["GET", "HEAD", "POST"])


def form_page(
    request: HttpRequest, template: str, form: Form, **context: Any
) -> HttpResponse:
    """Show the form; one with errors is answered as not acceptable."""
    status = HTTPStatus.UNPROCESSABLE_ENTITY if form.errors else HTTPStatus.OK
    return render(request, template, {"form": form, **context}, status=status)


def go_on(request: HttpRequest, said: str, to: str, *args: object) -> HttpResponse:
    """Say what was done and go to the next page."""
    messages.success(request, said)
    return redirect(to, *args)
