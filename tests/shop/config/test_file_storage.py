"""Where files lie is said by one address; nothing in a bucket is public."""

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.core.files.storage import storages
from django.core.files.storage.filesystem import FileSystemStorage

from shop.config.file_storage import storage_from_url


def test_files_lie_on_the_disk_unless_said() -> None:
    made = storages.create_storage(storage_from_url("disk://"))
    assert isinstance(made, FileSystemStorage)


def test_a_bucket_is_private_and_its_keys_come_from_elsewhere(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("LOOM_FILES_KEY_ID", "someone")
    monkeypatch.setenv("LOOM_FILES_KEY", "very secret")
    wanted = storage_from_url(
        "s3://shop-files/loom?endpoint=https://objects.example&region=north"
    )
    made = storages.create_storage(wanted)
    assert type(made).__name__ == "S3Storage"
    said = {
        name: getattr(made, name)
        for name in (
            "bucket_name",
            "location",
            "endpoint_url",
            "region_name",
            "access_key",
            "secret_key",
            "default_acl",
            "querystring_auth",
            "file_overwrite",
        )
    }
    assert said == {
        "bucket_name": "shop-files",
        "location": "loom",
        "endpoint_url": "https://objects.example",
        "region_name": "north",
        "access_key": "someone",
        "secret_key": "very secret",
        "default_acl": None,
        "querystring_auth": True,
        "file_overwrite": False,
    }


@pytest.mark.parametrize(
    "url", ["", "files", "s3://", "ftp://x", "disk:///tmp", "s3://b?acl=public-read"]
)
def test_an_address_that_is_none_stops_the_start(url: str) -> None:
    with pytest.raises(ImproperlyConfigured, match="LOOM_FILES_URL"):
        storage_from_url(url)
