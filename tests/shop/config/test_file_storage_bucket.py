"""The same code keeps files in a bucket: against a small object store of our own."""

import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import Storage, storages
from typing_extensions import override

from shop.config.file_storage import storage_from_url

CONTENT = bytes(range(256)) * 40


class ObjectStore(BaseHTTPRequestHandler):
    """PUT, GET, HEAD and DELETE of objects by their path, as S3 answers them."""

    objects: dict[str, bytes] = {}
    put_headers: list[dict[str, str]] = []

    def do_PUT(self) -> None:
        length = int(self.headers["Content-Length"])
        self.objects[self.path] = self.rfile.read(length)
        self.put_headers.append({k.lower(): v for k, v in self.headers.items()})
        self._answer(200)

    def do_GET(self) -> None:
        found = self.objects.get(self.path.partition("?")[0])
        self._answer(404 if found is None else 200, found or b"")

    def do_HEAD(self) -> None:
        self.do_GET()

    def do_DELETE(self) -> None:
        self.objects.pop(self.path, None)
        self._answer(204)

    @override
    def log_message(self, *args: object) -> None:
        """Say nothing."""

    def _answer(self, status: int, content: bytes = b"") -> None:
        self.send_response(status)
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Last-Modified", "Mon, 02 Mar 2026 08:30:00 GMT")
        self.send_header("ETag", '"x"')
        self.end_headers()
        if self.command == "GET":
            self.wfile.write(content)


@pytest.fixture
def bucket(monkeypatch: pytest.MonkeyPatch) -> Iterator[Storage]:
    monkeypatch.setenv("LOOM_FILES_KEY_ID", "someone")
    monkeypatch.setenv("LOOM_FILES_KEY", "very secret")
    server = ThreadingHTTPServer(("127.0.0.1", 0), ObjectStore)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    ObjectStore.objects.clear()
    ObjectStore.put_headers.clear()
    place = f"http://127.0.0.1:{server.server_port}"
    yield storages.create_storage(
        storage_from_url(f"s3://shop-files/loom?endpoint={place}&region=north")
    )
    server.shutdown()
    server.server_close()


def test_a_file_is_put_read_in_pieces_and_taken_away(bucket: Storage) -> None:
    name = bucket.save("attachments/ab/abc.jpg", ContentFile(CONTENT))
    assert ObjectStore.objects == {"/shop-files/loom/attachments/ab/abc.jpg": CONTENT}
    assert "x-amz-acl" not in ObjectStore.put_headers[0]
    assert bucket.exists(name)
    with bucket.open(name) as file:
        assert b"".join(file.chunks(4096)) == CONTENT
    bucket.delete(name)
    assert not bucket.exists(name)
    with pytest.raises(FileNotFoundError):
        bucket.open(name)
