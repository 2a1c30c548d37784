"""The settings as they are read from an environment, in a process of their own."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]

PRODUCTION = {
    "LOOM_SECRET_KEY": "k9-vW2_nQ7tR4yU1iO6pA3sD8fG5hJ0kL-zXcVbNm.QwErTyUiOp",
    "LOOM_ALLOWED_HOSTS": "workshop.example",
    "LOOM_PUBLIC_URL": "https://workshop.example",
    "LOOM_DATABASE_URL": "postgresql://loom@db/loom",
    "LOOM_BROKER_URL": "redis://redis/0",
    "LOOM_CACHE_URL": "redis://redis/1",
    "LOOM_EMAIL_URL": "smtp://post@mail.example?tls=start",
}


def manage(
    *args: str, var_dir: Path, **environment: str
) -> subprocess.CompletedProcess[str]:
    kept = {
        name: value
        for name, value in os.environ.items()
        if not name.startswith(("LOOM_", "WEB_CONCURRENCY"))
    }
    return subprocess.run(
        [sys.executable, "manage.py", *args],
        cwd=ROOT,
        env={**kept, "LOOM_VAR_DIR": str(var_dir), **environment},
        capture_output=True,
        text=True,
        check=False,
    )


def test_production_settings_pass_the_deployment_check(tmp_path: Path) -> None:
    done = manage(
        "check", "--deploy", "--fail-level", "WARNING", var_dir=tmp_path, **PRODUCTION
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "no issues" in done.stdout + done.stderr
    wrong = {**PRODUCTION, "LOOM_BROKER_URL": "memory://", "WEB_CONCURRENCY": "3"}
    refused = manage("check", var_dir=tmp_path, **wrong)
    assert refused.returncode != 0
    assert "shop.E002" in refused.stderr


def test_without_a_secret_key_nothing_starts(tmp_path: Path) -> None:
    done = manage("check", var_dir=tmp_path)
    assert done.returncode != 0
    assert "LOOM_SECRET_KEY" in done.stderr


def test_debug_is_off_and_cookies_are_for_https_unless_asked(tmp_path: Path) -> None:
    asked = (
        "from django.conf import settings as s;"
        "print(s.DEBUG, s.SESSION_COOKIE_SECURE, s.CSRF_COOKIE_SECURE,"
        " s.SECURE_SSL_REDIRECT, s.SECURE_HSTS_SECONDS > 0)"
    )
    for_real = manage("shell", "-v0", "-c", asked, var_dir=tmp_path, **PRODUCTION)
    assert for_real.stdout.split() == ["False", "True", "True", "True", "True"]
    demo = manage("shell", "-v0", "-c", asked, var_dir=tmp_path, LOOM_DEMO="yes")
    assert demo.stdout.split() == ["False", "False", "False", "False", "False"]
