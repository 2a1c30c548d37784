import logging

from shop.config.logs import MaskPrivateLinks, logging_config


def masked(message: str, *args: object) -> str:
    record = logging.LogRecord("x", logging.WARNING, "f", 1, message, args, None)
    assert MaskPrivateLinks().filter(record)
    return record.getMessage()


def test_the_secret_of_a_private_link_is_not_written_down() -> None:
    assert masked("Not Found: %s", "/link/Zk3-secret_9/") == "Not Found: /link/.../"
    assert masked("GET /link/abc?x=1 from /link/def/") == (
        "GET /link/...?x=1 from /link/.../"
    )


def test_everything_else_is_left_as_it_was() -> None:
    assert masked("Not Found: %s", "/links/7/revoke/") == "Not Found: /links/7/revoke/"
    assert masked("100 %% of %s", "it") == "100 % of it"


def test_every_line_goes_through_the_mask() -> None:
    config = logging_config("INFO")
    assert config["root"]["handlers"] == ["stderr"]
    assert config["handlers"]["stderr"]["filters"] == ["links"]
