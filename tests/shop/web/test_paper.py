from pathlib import Path

import pytest
from django.core.files.storage import default_storage
from django.test import Client
from django.urls import reverse
from pytest_django import Settings

from shop import seams
from shop.models import PaperRequest, WorkOrder
from tests.builders import FrontDeskFactory, StorekeeperFactory, UserFactory
from tests.shop.paper_room import build_now, order_with_work, signed_in

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}


@pytest.fixture(autouse=True)
def _drawer(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def order() -> WorkOrder:
    return order_with_work()


@pytest.fixture
def bench(order: WorkOrder) -> Client:
    return signed_in(UserFactory.create())


def address(name: str, *args: int) -> str:
    return reverse(f"shop:{name}", args=args)


def test_an_order_without_paper_says_what_to_do(
    bench: Client, order: WorkOrder
) -> None:
    page = bench.get(address("paper", order.pk)).content.decode()
    assert "No report has been made of this work order yet." in page
    assert "Make the report" in page
    assert "every 1s" not in page


def test_the_list_asks_for_itself_until_the_paper_is_ready(
    bench: Client, order: WorkOrder
) -> None:
    asked = bench.post(address("paper_request", order.pk), headers=HTMX)
    assert asked.status_code == 200
    text = asked.content.decode()
    assert 'hx-trigger="every 1s"' in text
    assert "Waiting for its turn" in text
    PaperRequest.objects.update(step=2, step_words="Laying out the pages")
    text = bench.get(address("paper_list", order.pk), headers=HTMX).content.decode()
    assert "Step 2 of 4: Laying out the pages" in text
    assert 'max="4" value="2"' in text
    build_now()
    text = bench.get(address("paper_list", order.pk), headers=HTMX).content.decode()
    assert "every 1s" not in text
    assert "Download" in text
    assert address("paper_file", PaperRequest.objects.get().pk) in text


def test_asking_again_with_nothing_changed_says_so(
    bench: Client, order: WorkOrder
) -> None:
    way = address("paper_request", order.pk)
    assert "Nothing has changed" not in bench.post(way, headers=HTMX).content.decode()
    build_now()
    assert "Nothing has changed" in bench.post(way, headers=HTMX).content.decode()
    assert "Nothing has changed" in bench.post(way, follow=True).content.decode()


def test_without_htmx_the_request_leads_to_the_page_of_the_paper(
    bench: Client, order: WorkOrder
) -> None:
    answer = bench.post(address("paper_request", order.pk), follow=True)
    assert answer.redirect_chain == [(address("paper", order.pk), 302)]
    assert "Look again" in answer.content.decode()


def test_a_paper_is_downloaded_under_its_own_name_and_cached_nowhere(
    bench: Client, order: WorkOrder
) -> None:
    bench.post(address("paper_request", order.pk))
    build_now()
    paper = PaperRequest.objects.get()
    answer = bench.get(address("paper_file", paper.pk))
    assert answer.status_code == 200
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"].startswith(
        f'attachment; filename="{order.label}-report-'
    )
    assert answer["Cache-Control"] == "private, no-store"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer.content.startswith(b"%PDF-1.7")
    assert len(answer.content) == paper.byte_count


def test_a_damaged_file_is_refused_and_the_reader_told_how_to_mend_it(
    bench: Client, order: WorkOrder
) -> None:
    bench.post(address("paper_request", order.pk))
    build_now()
    paper = PaperRequest.objects.get()
    Path(default_storage.path(paper.file_name)).write_bytes(b"%PDF-1.7 gnawed")
    answer = bench.get(address("paper_file", paper.pk))
    assert answer.status_code == 400
    assert "missing or damaged" in answer.content.decode()


def test_what_failed_shows_why_and_can_be_tried_again(
    bench: Client, order: WorkOrder
) -> None:
    bench.post(address("paper_request", order.pk))
    PaperRequest.objects.update(state="failed", failure_reason="The fonts are gone.")
    paper = PaperRequest.objects.get()
    text = bench.get(address("paper_list", order.pk)).content.decode()
    assert "The fonts are gone." in text
    assert "Try again" in text
    assert "every 1s" not in text
    text = bench.post(address("paper_retry", paper.pk), headers=HTMX).content.decode()
    assert "every 1s" in text
    again = bench.post(address("paper_retry", paper.pk), headers=HTMX)
    assert again.status_code == 200
    assert "Only a paper that could not be made" in again.content.decode()
    assert bench.post(address("paper_retry", paper.pk)).status_code == 409


def test_too_much_for_one_paper_is_said_in_the_panel(
    bench: Client, order: WorkOrder
) -> None:
    def much(*, work_order_id: int) -> tuple[seams.ReportSection, ...]:
        table = seams.Table("R", ("R",), (("x",),) * 2001)
        return (seams.ReportSection("much", "Readings", 30, (table,)),)

    seams.registry.register_sections("much", much)
    try:
        answer = bench.post(address("paper_request", order.pk), headers=HTMX)
    finally:
        seams.registry.unregister("much")
    assert answer.status_code == 200
    assert "one paper holds 2000" in answer.content.decode()
    assert not PaperRequest.objects.exists()


def test_every_address_asks_who_is_there_and_what_they_may(order: WorkOrder) -> None:
    signed_in(FrontDeskFactory.create()).post(address("paper_request", order.pk))
    build_now()
    paper = PaperRequest.objects.get()
    readable = [
        address("paper", order.pk),
        address("paper_panel", order.pk),
        address("paper_list", order.pk),
        address("paper_file", paper.pk),
    ]
    writable = [address("paper_request", order.pk), address("paper_retry", paper.pk)]
    nobody, keeper = Client(), signed_in(StorekeeperFactory.create())
    for path in readable:
        assert nobody.get(path).status_code == 302, path
        assert keeper.get(path).status_code == 403, path
        assert nobody.get(path)["Location"].startswith("/account/"), path
    for path in writable:
        assert nobody.post(path).status_code == 302, path
        assert keeper.post(path).status_code == 403, path
        assert nobody.get(path).status_code in {302, 405}, path


def test_what_is_not_there_answers_404(bench: Client) -> None:
    for name in ("paper", "paper_panel", "paper_list", "paper_file"):
        assert bench.get(address(name, 404)).status_code == 404
    for name in ("paper_request", "paper_retry"):
        assert bench.post(address(name, 404)).status_code == 404


def test_the_slot_fetches_the_panel_and_works_without_scripts(
    bench: Client, order: WorkOrder
) -> None:
    panel = bench.get(address("paper_panel", order.pk), headers=HTMX).content.decode()
    assert panel.lstrip().startswith("<section")
    assert 'aria-live="polite"' in panel


def test_no_file_is_served_by_its_path(bench: Client, order: WorkOrder) -> None:
    bench.post(address("paper_request", order.pk))
    build_now()
    name = PaperRequest.objects.get().file_name
    for path in (f"/{name}", f"/media/{name}", f"/static/{name}"):
        assert bench.get(path).status_code == 404
