"""The addresses of the bench, named `diagnostics:<noun>` and `<noun>_<verb>`."""

from django.urls import URLPattern, path

from diagnostics.web import (
    beliefs,
    cases,
    complaints,
    explanations,
    findings,
    harness_files,
    measurements,
    repairs,
    retests,
    voids,
)

app_name = "diagnostics"

urlpatterns: list[URLPattern] = [
    path("drawings/", harness_files.library, name="harness_files"),
    path("drawings/add/", harness_files.add, name="harness_file_add"),
    path("drawings/<int:harness_file_id>/", harness_files.page, name="harness_file"),
    path("bench/", cases.board, name="cases"),
    path("bench/open/<int:work_order_id>/", cases.open_on, name="case_open"),
    path("bench/<int:case_id>/", cases.bench, name="case"),
    path("bench/<int:case_id>/prove/", cases.prove, name="case_prove"),
    path("bench/<int:case_id>/give-up/", cases.give_up, name="case_give_up"),
    path("bench/<int:case_id>/reopen/", cases.reopen, name="case_reopen"),
    path("bench/<int:case_id>/complaint/", complaints.take, name="complaint"),
    path("bench/<int:case_id>/advised/", findings.advised, name="finding_advised"),
    path("bench/<int:case_id>/finding/", findings.new, name="finding_new"),
    path("bench/<int:case_id>/repair/", repairs.new, name="repair_new"),
    path("bench/<int:case_id>/measurements/", measurements.listed, name="measurements"),
    path(
        "bench/<int:case_id>/measurements/<slug:kind>/",
        measurements.new,
        name="measurement_new",
    ),
    path(
        "bench/measurements/<int:measurement_id>/",
        measurements.page,
        name="measurement",
    ),
    path(
        "bench/measurements/<int:measurement_id>/void/",
        measurements.void,
        name="measurement_void",
    ),
    path("bench/<int:case_id>/belief/", beliefs.replay, name="beliefs"),
    path(
        "bench/<int:case_id>/why/<str:segment>/", explanations.page, name="explanation"
    ),
    path("bench/findings/<int:finding_id>/void/", voids.void, name="finding_void"),
    path("bench/findings/<int:finding_id>/undo/", voids.undo, name="finding_undo"),
    path(
        "bench/findings/<int:finding_id>/put-back/",
        voids.put_back,
        name="finding_put_back",
    ),
    path(
        "bench/findings/<int:finding_id>/retest/", retests.retest, name="finding_retest"
    ),
]
