from shop.actions.paper import DRAIN
from shop.config.celery import SWEEP_EVERY_S, app, transport_options
from shop.tasks import SWEEP


def test_each_kind_of_broker_gets_what_was_measured_for_it() -> None:
    assert transport_options("memory://") == {"polling_interval": 0.05}
    with_redis = transport_options("redis://127.0.0.1:6379/0")
    assert with_redis["unacked_restore_interval"] == 1
    assert with_redis["unacked_restore_throttle"] == 1
    assert with_redis["visibility_timeout"] > app.conf.task_time_limit
    assert transport_options("amqp://x") == {}


def test_a_message_is_acknowledged_only_after_the_work() -> None:
    assert app.conf.task_acks_late
    assert app.conf.task_reject_on_worker_lost
    assert app.conf.worker_prefetch_multiplier == 1
    assert app.conf.task_ignore_result


def test_the_sweep_is_on_the_schedule_and_its_hints_do_not_pile_up() -> None:
    entry = app.conf.beat_schedule["sweep"]
    assert entry["task"] == SWEEP
    assert entry["schedule"] == SWEEP_EVERY_S
    assert entry["options"]["expires"] <= SWEEP_EVERY_S


def test_every_task_takes_keywords_alone_under_a_name_that_stays() -> None:
    ours = {name for name in app.tasks if name.startswith("shop.")}
    assert {DRAIN, SWEEP} <= ours
