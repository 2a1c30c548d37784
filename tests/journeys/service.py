"""The service as people run it: real processes on a free port of this machine."""

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SECONDS_TO_START = 60
SECONDS_TO_STOP = 20


@dataclass(frozen=True)
class Service:
    """A running service: where it is, what it was told at the start, its folder."""

    url: str
    said: str
    folder: Path

    def logs(self) -> str:
        """Return what its processes have written so far."""
        return "\n".join(
            f"--- {path.name}\n{path.read_text(encoding='utf-8')}"
            for path in sorted(self.folder.glob("*.log"))
        )


def free_port() -> int:
    """Return a port on which nobody listens now."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


def _environment(folder: Path, url: str, extra: Mapping[str, str]) -> dict[str, str]:
    plain = {k: v for k, v in os.environ.items() if not k.startswith("LOOM_")}
    return {
        **plain,
        "LOOM_DEMO": "yes",
        "LOOM_VAR_DIR": str(folder),
        "LOOM_PUBLIC_URL": url,
        "PYTHONWARNINGS": "default",
        "OPENBLAS_NUM_THREADS": "1",
        **extra,
    }


def _manage(*arguments: str, env: Mapping[str, str]) -> str:
    done = subprocess.run(
        [sys.executable, "manage.py", *arguments],
        cwd=ROOT,
        env=dict(env),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, f"manage.py {arguments}: {done.stdout}{done.stderr}"
    return done.stdout


@contextmanager
def _process(
    name: str, *command: str, env: Mapping[str, str], folder: Path
) -> Iterator["subprocess.Popen[bytes]"]:
    """Run one process until the block ends; it must still be alive then."""
    with (folder / f"{name}.log").open("wb") as log:
        process = subprocess.Popen(
            [sys.executable, "-m", *command],
            cwd=ROOT,
            env=dict(env),
            stdin=subprocess.DEVNULL,
            stdout=log,
            stderr=subprocess.STDOUT,
        )
        try:
            yield process
            assert process.poll() is None, f"{name} stopped by itself"
        finally:
            process.terminate()
            try:
                process.wait(timeout=SECONDS_TO_STOP)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()


def _await_answer(url: str, process: "subprocess.Popen[bytes]") -> None:
    until = time.monotonic() + SECONDS_TO_START
    while time.monotonic() < until:
        assert process.poll() is None, "the web process stopped while starting"
        try:
            with urllib.request.urlopen(f"{url}/readyz", timeout=5):
                return
        except urllib.error.HTTPError:
            raise
        except OSError:
            time.sleep(0.1)
    raise AssertionError(f"{url} did not answer within {SECONDS_TO_START} s")


@contextmanager
def running(
    folder: Path, extra: Mapping[str, str], *, workers: bool
) -> Iterator[Service]:
    """Fill the invented workshop and serve it until the block ends."""
    url = f"http://127.0.0.1:{free_port()}"
    env = _environment(folder, url, extra)
    (folder / "static").mkdir(exist_ok=True)
    _manage("migrate", "--verbosity", "0", env=env)
    said = _manage("demo", env=env)
    with ExitStack() as stack:
        web = stack.enter_context(
            _process(
                "web",
                "gunicorn",
                "shop.config.wsgi:application",
                "--bind",
                url.removeprefix("http://"),
                "--threads",
                "8",
                env=env,
                folder=folder,
            )
        )
        if workers:
            for name, *arguments in (
                ("worker", "worker", "--concurrency", "1"),
                ("sweeper", "beat", "--schedule", str(folder / "schedule")),
            ):
                command = ("celery", "-A", "shop.config", *arguments)
                stack.enter_context(_process(name, *command, env=env, folder=folder))
        _await_answer(url, web)
        yield Service(url=url, said=said, folder=folder)
