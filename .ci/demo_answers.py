"""Start the demo of a checkout, ask it for pages as a browser would, and stop it.

Usage: python .ci/demo_answers.py CHECKOUT
Uses only the standard library, so that it can judge a checkout from outside.
"""

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from http import HTTPStatus
from pathlib import Path

SECONDS_TO_START = 90


def free_port() -> int:
    """Return a port on which nobody listens now."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


def page(url: str) -> tuple[int, str]:
    """Return the status and the text of a page."""
    request = urllib.request.Request(url, headers={"Accept": "text/html"})
    with urllib.request.urlopen(request, timeout=10) as answer:
        return answer.status, answer.read().decode()


def wait_for(url: str, demo: "subprocess.Popen[str]") -> str:
    """Return the first page once the demo answers."""
    until = time.monotonic() + SECONDS_TO_START
    while time.monotonic() < until:
        if demo.poll() is not None:
            raise SystemExit(f"the demo stopped by itself with {demo.returncode}")
        try:
            return page(url)[1]
        except urllib.error.HTTPError as error:
            raise SystemExit(f"{url} answered {error.code}") from error
        except OSError:
            time.sleep(0.2)
    raise SystemExit(f"the demo did not answer within {SECONDS_TO_START} s")


def judge(root: str, demo: "subprocess.Popen[str]") -> list[str]:
    """Return what is wrong with the running demo."""
    faults: list[str] = []
    first = wait_for(root, demo)
    if "Loomwright" not in first:
        faults.append("the first page does not say whose it is")
    sheets = re.findall(r'<link[^>]+href="([^"]+\.css)"', first)
    if not sheets:
        faults.append("the first page names no style sheet")
    for sheet in sheets:
        status, text = page(f"{root}{sheet}")
        if status != HTTPStatus.OK or not text.strip():
            faults.append(f"{sheet} answered {status} with {len(text)} characters")
    return faults


def main(checkout: Path) -> int:
    """Run the demo twice, the second time on what the first one left."""
    port = free_port()
    environment = dict(os.environ, LOOM_PORT=str(port))
    environment.pop("LOOM_VAR_DIR", None)
    log = checkout / "var" / "demo.log"
    log.parent.mkdir(exist_ok=True)
    for time_of_start in ("first", "second"):
        with log.open("w+", encoding="utf-8") as output:
            demo = subprocess.Popen(
                ["bash", ".ci/demo"],
                cwd=checkout,
                env=environment,
                stdout=output,
                stderr=subprocess.STDOUT,
                text=True,
            )
            try:
                faults = judge(f"http://127.0.0.1:{port}", demo)
            finally:
                demo.send_signal(signal.SIGINT)
                status = demo.wait(timeout=20)
            if status != 0:
                faults.append(f"Ctrl-C ended the demo with {status} instead of 0")
        said = log.read_text(encoding="utf-8")
        if f"127.0.0.1:{port}" not in said:
            faults.append("the demo does not say where to go")
        if faults:
            sys.stdout.write(f"{said}\n{time_of_start} start: " + "; ".join(faults))
            return 1
    return 0


if __name__ == "__main__":
    raise SystemExit(main(Path(sys.argv[1]).resolve()))
