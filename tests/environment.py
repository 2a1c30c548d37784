"""The environment that the settings are read from while tests run.

Loaded by pytest before Django (`-p tests.environment` in pyproject.toml), so that
the one settings file serves tests as it serves everything else: by environment.
"""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

_KEEP = ("LOOM_DATABASE_URL", "LOOM_TEST_")
_WORKER = os.environ.get("PYTEST_XDIST_WORKER")


def _own_var_dir() -> str:
    folder = tempfile.mkdtemp(prefix="loomwright-var-")
    owner = os.getpid()

    def remove() -> None:
        # A forked worker process inherits this hook but does not own the folder.
        if os.getpid() == owner:
            shutil.rmtree(folder, ignore_errors=True)

    atexit.register(remove)
    return folder


def _own_redis_database() -> None:
    """Give each process of a parallel run two databases of the one Redis."""
    url, worker = os.environ.get("LOOM_TEST_REDIS_URL"), _WORKER
    if url and worker:
        number = 2 * int(worker.removeprefix("gw"))
        os.environ["LOOM_TEST_REDIS_URL"] = f"{url.rpartition('/')[0]}/{number}"


for _name in [name for name in os.environ if name.startswith("LOOM_")]:
    if not _name.startswith(_KEEP):
        del os.environ[_name]
os.environ["LOOM_DEMO"] = "yes"
# The engine's matrices are small: threads inside one only wait for each other, and on
# a busy machine that makes it several times slower. To be set before numpy is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ["LOOM_VAR_DIR"] = _own_var_dir()
(Path(os.environ["LOOM_VAR_DIR"]) / "static").mkdir()
_own_redis_database()
