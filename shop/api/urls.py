"""Every address of the shop's API, under /api/."""

from django.urls import URLPattern, URLResolver, path

from shop.api.absences import AbsencesView, AbsenceView
from shop.api.attachments import (
    AttachmentFileView,
    AttachmentPutBackView,
    AttachmentRemoveView,
    AttachmentsView,
    AttachmentView,
)
from shop.api.bikes import BikesView, BikeView
from shop.api.board import BoardView
from shop.api.clocks import (
    ChangeOverView,
    ClockCorrectView,
    ClockOffView,
    ClockOnView,
    ClocksView,
    ClockView,
    MyDayView,
    WorkOrderEffortView,
)
from shop.api.contacts import (
    ContactRetireView,
    ContactView,
    CustomerContactsView,
)
from shop.api.customers import CustomersView, CustomerView
from shop.api.holds import (
    AdvisoryDeclineView,
    AdvisoryToldView,
    CheckItemAnswerView,
    HoldReleaseView,
    WorkOrderAdvisoriesView,
    WorkOrderHoldsView,
)
from shop.api.labour import LabourLineView, LabourVoidView, WorkOrderLabourView
from shop.api.labour_rates import LabourRatesView
from shop.api.links import CustomerLinksView, LinkRevokeView
from shop.api.odometer_readings import BikeOdometerView, OdometerCorrectView
from shop.api.outside_work import (
    OutsideAgainView,
    OutsideBackView,
    OutsideDropView,
    OutsideSendView,
    OutsideWorksView,
    OutsideWorkView,
    WorkOrderOutsideView,
)
from shop.api.ownerships import BikeOwnersView, BikeOwnerView
from shop.api.paper import (
    PaperFileView,
    PaperRetryView,
    PaperView,
    WorkOrderPaperView,
)
from shop.api.part_lines import (
    PartLineView,
    PartLineVoidView,
    WorkOrderPartLinesView,
)
from shop.api.parts import PartsView, PartView, TaxRatesView
from shop.api.plans import PlanView, WorkOrderPlanView
from shop.api.search import SearchView
from shop.api.sessions import OwnSessionsView, PersonSessionsView, SessionView
from shop.api.sign_in import MeView, OwnTokenView, TokenView
from shop.api.strip_tags import (
    StripTagFateView,
    StripTagMoveView,
    StripTagsView,
    StripTagView,
    WorkOrderTagsView,
)
from shop.api.suppliers import SuppliersView, SupplierView
from shop.api.tasks import (
    TaskEventsView,
    TaskPlaceView,
    TaskTemplatesView,
    TaskTemplateView,
    TaskView,
    WorkOrderTasksView,
    WorkOrderTemplateView,
)
from shop.api.timeline import BikeTimelineView
from shop.api.work_orders import (
    WorkOrderEventsView,
    WorkOrderHistoryView,
    WorkOrdersView,
    WorkOrderView,
)
from shop.api.working_hours import WorkingHoursListView, WorkingHoursView

ORDER = "work-orders/<int:work_order_id>"
TAGGED = "strip-tags/<int:strip_tag_id>"
OUTSIDE = "outside-work/<int:outside_work_id>"

urlpatterns: list[URLPattern | URLResolver] = [
    path("token", TokenView.as_view(), name="api-token"),
    path("me", MeView.as_view(), name="api-me"),
    path("me/token", OwnTokenView.as_view(), name="api-own-token"),
    path("me/sessions", OwnSessionsView.as_view(), name="api-own-sessions"),
    path(
        "people/<int:person_id>/sessions",
        PersonSessionsView.as_view(),
        name="api-person-sessions",
    ),
    path("sessions/<int:session_id>", SessionView.as_view(), name="api-session"),
    path("search", SearchView.as_view(), name="api-search"),
    path("board", BoardView.as_view(), name="api-board"),
    path("customers", CustomersView.as_view(), name="api-customers"),
    path("customers/<int:customer_id>", CustomerView.as_view(), name="api-customer"),
    path("bikes", BikesView.as_view(), name="api-bikes"),
    path("bikes/<int:bike_id>", BikeView.as_view(), name="api-bike"),
    path("bikes/<int:bike_id>/owner", BikeOwnerView.as_view(), name="api-bike-owner"),
    path(
        "bikes/<int:bike_id>/owners", BikeOwnersView.as_view(), name="api-bike-owners"
    ),
    path(
        "bikes/<int:bike_id>/odometer",
        BikeOdometerView.as_view(),
        name="api-bike-odometer",
    ),
    path(
        "bikes/<int:bike_id>/timeline",
        BikeTimelineView.as_view(),
        name="api-bike-timeline",
    ),
    path(
        "odometer-readings/<int:reading_id>/correct",
        OdometerCorrectView.as_view(),
        name="api-odometer-correct",
    ),
    path(
        "customers/<int:customer_id>/contacts",
        CustomerContactsView.as_view(),
        name="api-customer-contacts",
    ),
    path("contacts/<int:contact_id>", ContactView.as_view(), name="api-contact"),
    path(
        "contacts/<int:contact_id>/retire",
        ContactRetireView.as_view(),
        name="api-contact-retire",
    ),
    path("work-orders", WorkOrdersView.as_view(), name="api-work-orders"),
    path(ORDER, WorkOrderView.as_view(), name="api-work-order"),
    path(f"{ORDER}/events", WorkOrderEventsView.as_view(), name="api-events"),
    path(f"{ORDER}/history", WorkOrderHistoryView.as_view(), name="api-history"),
    path(
        f"{ORDER}/labour-lines",
        WorkOrderLabourView.as_view(),
        name="api-work-order-labour",
    ),
    path(
        f"{ORDER}/part-lines",
        WorkOrderPartLinesView.as_view(),
        name="api-work-order-part-lines",
    ),
    path(
        "labour-lines/<int:line_id>", LabourLineView.as_view(), name="api-labour-line"
    ),
    path(
        "labour-lines/<int:line_id>/void",
        LabourVoidView.as_view(),
        name="api-labour-void",
    ),
    path("labour-rates", LabourRatesView.as_view(), name="api-labour-rates"),
    path("me/day", MyDayView.as_view(), name="api-my-day"),
    path("clocks", ClocksView.as_view(), name="api-clocks"),
    path("clocks/<int:clock_id>", ClockView.as_view(), name="api-clock"),
    path("clocks/<int:clock_id>/off", ClockOffView.as_view(), name="api-clock-off"),
    path(
        "clocks/<int:clock_id>/correct",
        ClockCorrectView.as_view(),
        name="api-clock-correct",
    ),
    path("tasks/<int:task_id>/clock-on", ClockOnView.as_view(), name="api-clock-on"),
    path(
        "tasks/<int:task_id>/change-over",
        ChangeOverView.as_view(),
        name="api-change-over",
    ),
    path(f"{ORDER}/effort", WorkOrderEffortView.as_view(), name="api-effort"),
    path("part-lines/<int:line_id>", PartLineView.as_view(), name="api-part-line"),
    path(
        "part-lines/<int:line_id>/void",
        PartLineVoidView.as_view(),
        name="api-part-line-void",
    ),
    path("parts", PartsView.as_view(), name="api-parts"),
    path("parts/<int:part_id>", PartView.as_view(), name="api-part"),
    path("suppliers", SuppliersView.as_view(), name="api-suppliers"),
    path("suppliers/<int:supplier_id>", SupplierView.as_view(), name="api-supplier"),
    path("strip-tags", StripTagsView.as_view(), name="api-strip-tags"),
    path(f"{ORDER}/strip-tags", WorkOrderTagsView.as_view(), name="api-order-tags"),
    path(TAGGED, StripTagView.as_view(), name="api-strip-tag"),
    path(f"{TAGGED}/fate", StripTagFateView.as_view(), name="api-strip-tag-fate"),
    path(f"{TAGGED}/move", StripTagMoveView.as_view(), name="api-strip-tag-move"),
    path("outside-work", OutsideWorksView.as_view(), name="api-outside-works"),
    path(
        f"{ORDER}/outside-work",
        WorkOrderOutsideView.as_view(),
        name="api-order-outside-work",
    ),
    path(OUTSIDE, OutsideWorkView.as_view(), name="api-outside-work"),
    path(f"{OUTSIDE}/send", OutsideSendView.as_view(), name="api-outside-send"),
    path(f"{OUTSIDE}/again", OutsideAgainView.as_view(), name="api-outside-again"),
    path(f"{OUTSIDE}/back", OutsideBackView.as_view(), name="api-outside-back"),
    path(f"{OUTSIDE}/drop", OutsideDropView.as_view(), name="api-outside-drop"),
    path("tax-rates", TaxRatesView.as_view(), name="api-tax-rates"),
    path(f"{ORDER}/paper", WorkOrderPaperView.as_view(), name="api-work-order-paper"),
    path("paper/<int:paper_id>", PaperView.as_view(), name="api-paper"),
    path("paper/<int:paper_id>/file", PaperFileView.as_view(), name="api-paper-file"),
    path(
        "paper/<int:paper_id>/retry", PaperRetryView.as_view(), name="api-paper-retry"
    ),
    path(
        "customers/<int:customer_id>/links",
        CustomerLinksView.as_view(),
        name="api-customer-links",
    ),
    path(
        "links/<int:link_id>/revoke", LinkRevokeView.as_view(), name="api-link-revoke"
    ),
    path("attachments", AttachmentsView.as_view(), name="api-attachments"),
    path(
        "attachments/<int:attachment_id>",
        AttachmentView.as_view(),
        name="api-attachment",
    ),
    path(
        "attachments/<int:attachment_id>/file",
        AttachmentFileView.as_view(),
        name="api-attachment-file",
    ),
    path(
        "attachments/<int:attachment_id>/remove",
        AttachmentRemoveView.as_view(),
        name="api-attachment-remove",
    ),
    path(
        "attachments/<int:attachment_id>/put-back",
        AttachmentPutBackView.as_view(),
        name="api-attachment-put-back",
    ),
    path(f"{ORDER}/tasks", WorkOrderTasksView.as_view(), name="api-work-order-tasks"),
    path(
        f"{ORDER}/tasks/lay-out",
        WorkOrderTemplateView.as_view(),
        name="api-tasks-lay-out",
    ),
    path("tasks/<int:task_id>", TaskView.as_view(), name="api-task"),
    path("tasks/<int:task_id>/events", TaskEventsView.as_view(), name="api-task-move"),
    path("tasks/<int:task_id>/place", TaskPlaceView.as_view(), name="api-task-place"),
    path("task-templates", TaskTemplatesView.as_view(), name="api-task-templates"),
    path(
        "task-templates/<int:template_id>",
        TaskTemplateView.as_view(),
        name="api-task-template",
    ),
    path(f"{ORDER}/holds", WorkOrderHoldsView.as_view(), name="api-holds"),
    path(
        "holds/<int:hold_id>/release",
        HoldReleaseView.as_view(),
        name="api-hold-release",
    ),
    path(
        f"{ORDER}/advisories", WorkOrderAdvisoriesView.as_view(), name="api-advisories"
    ),
    path(
        "advisories/<int:advisory_id>/told",
        AdvisoryToldView.as_view(),
        name="api-advisory-told",
    ),
    path(
        "advisories/<int:advisory_id>/decline",
        AdvisoryDeclineView.as_view(),
        name="api-advisory-decline",
    ),
    path(
        "check-items/<int:item_id>/answer",
        CheckItemAnswerView.as_view(),
        name="api-check-item-answer",
    ),
    path("plan", PlanView.as_view(), name="api-plan"),
    path(f"{ORDER}/plan", WorkOrderPlanView.as_view(), name="api-work-order-plan"),
    path("working-hours", WorkingHoursListView.as_view(), name="api-working-hours"),
    path(
        "working-hours/<int:technician_id>",
        WorkingHoursView.as_view(),
        name="api-working-hours-of",
    ),
    path(
        "working-hours/<int:technician_id>/absences",
        AbsencesView.as_view(),
        name="api-absences",
    ),
    path("absences/<int:absence_id>", AbsenceView.as_view(), name="api-absence"),
]
