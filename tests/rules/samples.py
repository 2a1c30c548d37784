"""Arguments for an address: ids of rows that the filled demo has."""

from django.apps import apps

from diagnostics.lifecycle import CaseState
from diagnostics.models import Case, Finding
from shop.domain.strip_tags import FIRST_NUMBER, tag_code

# Arguments that are no ids.
WORDS: dict[str, object] = {
    "secret": "no-such-secret",
    "event": "wait",
    "task_event": "start",
    "kind": "battery-rest",
    "segment": "wire:56-2",
    "step": 0,
    "code": tag_code(FIRST_NUMBER),
    "tag_event": "fit",
    "rest": "nothing",
    "about": "bike",
}
# Arguments whose model is not the one that their name says.
MODELS = {
    "line_id": "shop.LabourLine",
    "about_id": "shop.Bike",
    "reading_id": "shop.OdometerReading",
    "paper_id": "shop.PaperRequest",
    "person_id": "shop.User",
    "technician_id": "shop.User",
    "template_id": "shop.TaskTemplate",
    "step_id": "shop.TemplateStep",
    "item_id": "shop.CheckItem",
    "point_id": "shop.CheckPoint",
    "link_id": "shop.CustomerLink",
    "session_id": "usersessions.UserSession",
}


def sample_for(route: str, argument: str) -> object:
    """Return something that the address can take."""
    if argument in WORDS:
        return WORDS[argument]
    if argument == "case_id":
        return Case.objects.get(state=CaseState.OPEN).pk
    if argument == "finding_id":
        return Finding.objects.filter(case__state=CaseState.OPEN).order_by("pk")[0].pk
    label = MODELS.get(argument) or _by_name(argument)
    row = apps.get_model(label)._default_manager.order_by("pk").first()
    if row is None:
        raise LookupError(f"{route}: the demo has no {label} to open it with")
    return row.pk


def _by_name(argument: str) -> str:
    """Return the model that `work_order_id` is an id of."""
    name = argument.removesuffix("_id").replace("_", "")
    for app in ("shop", "diagnostics"):
        for model in apps.get_app_config(app).get_models():
            if model._meta.model_name == name:
                return model._meta.label
    raise LookupError(f"no model goes with the argument {argument}")
