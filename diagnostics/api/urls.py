"""The addresses of the bench's API, below /api/."""

from django.urls import URLPattern, path

from diagnostics.api import (
    beliefs,
    cases,
    explanations,
    findings,
    harness_files,
    measurements,
    repairs,
)

app_name = "diagnostics_api"

urlpatterns: list[URLPattern] = [
    path("harness-files", harness_files.HarnessFiles.as_view(), name="harness_files"),
    path(
        "harness-files/<int:harness_file_id>",
        harness_files.HarnessFile.as_view(),
        name="harness_file",
    ),
    path("cases", cases.Cases.as_view(), name="cases"),
    path("cases/<int:case_id>", cases.Case.as_view(), name="case"),
    path("cases/<int:case_id>/advice", cases.CaseAdvice.as_view(), name="advice"),
    path("cases/<int:case_id>/proof", cases.CaseProof.as_view(), name="proof"),
    path("cases/<int:case_id>/give-up", cases.CaseGivingUp.as_view(), name="give_up"),
    path("cases/<int:case_id>/reopen", cases.CaseReopening.as_view(), name="reopen"),
    path(
        "cases/<int:case_id>/complaint",
        findings.CaseComplaint.as_view(),
        name="complaint",
    ),
    path(
        "cases/<int:case_id>/findings", findings.CaseFindings.as_view(), name="findings"
    ),
    path("cases/<int:case_id>/repairs", repairs.CaseRepairs.as_view(), name="repairs"),
    path(
        "cases/<int:case_id>/measurements",
        measurements.CaseMeasurements.as_view(),
        name="measurements",
    ),
    path(
        "cases/<int:case_id>/measurement-kinds",
        measurements.CaseMeasurementKinds.as_view(),
        name="measurement_kinds",
    ),
    path(
        "measurements/<int:measurement_id>",
        measurements.MeasurementTaken.as_view(),
        name="measurement",
    ),
    path(
        "measurements/<int:measurement_id>/void",
        measurements.MeasurementVoiding.as_view(),
        name="measurement_void",
    ),
    path("cases/<int:case_id>/beliefs", beliefs.CaseBeliefs.as_view(), name="beliefs"),
    path(
        "cases/<int:case_id>/beliefs/<int:step>",
        beliefs.CaseBelief.as_view(),
        name="belief",
    ),
    path(
        "cases/<int:case_id>/segments/<str:segment>/why",
        explanations.SegmentWhy.as_view(),
        name="explanation",
    ),
    path(
        "findings/<int:finding_id>/void",
        findings.FindingVoiding.as_view(),
        name="finding_void",
    ),
    path(
        "findings/<int:finding_id>/put-back",
        findings.FindingPuttingBack.as_view(),
        name="finding_put_back",
    ),
    path(
        "findings/<int:finding_id>/retest",
        findings.FindingRetest.as_view(),
        name="finding_retest",
    ),
]
