# shellcheck shell=bash
# What the scripts share; sourced, never run.

say() { printf '%s\n' "loomwright: $*"; }

fail() {
  printf '%s\n' "loomwright: $*" >&2
  exit 1
}

# The exit inside $(...) leaves only the subshell, so callers run under `set -e`.
free_port() {
  .venv/bin/python - <<'PY'
import socket

with socket.socket() as listener:
    listener.bind(("127.0.0.1", 0))
    print(listener.getsockname()[1])
PY
}

port_is_free() {
  .venv/bin/python - "$1" "$2" <<'PY'
import socket
import sys

with socket.socket() as listener:
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((sys.argv[1], int(sys.argv[2])))
    except OSError:
        sys.exit(1)
PY
}
