# shellcheck shell=bash
# A PostgreSQL cluster and a Redis of our own for one run of the tests, each on a free
# port and in a folder that is removed at the end; sourced by `.ci/test`.

services_dir=
redis_pid=
postgres_bin=

as_postgres() {
  # PostgreSQL refuses to run as root.
  if ((EUID == 0)); then
    (cd / && runuser -u postgres -- "$@")
  else
    "$@"
  fi
}

start_postgres() {
  local port
  postgres_bin=$(find /usr/lib/postgresql -mindepth 2 -maxdepth 2 -name bin 2>/dev/null | sort -V | tail -n 1)
  [[ -n $postgres_bin ]] || fail "no PostgreSQL server under /usr/lib/postgresql"
  mkdir "$services_dir/postgres"
  ((EUID != 0)) || chown postgres: "$services_dir/postgres"
  port=$(free_port)
  as_postgres "$postgres_bin/initdb" --pgdata="$services_dir/postgres/data" --username=loom \
    --auth=trust --encoding=UTF8 --locale=C.UTF-8 --no-sync >"$services_dir/initdb.log" 2>&1 || {
    cat "$services_dir/initdb.log" >&2
    fail "PostgreSQL could not lay out a cluster"
  }
  as_postgres "$postgres_bin/pg_ctl" start --wait --silent --pgdata="$services_dir/postgres/data" \
    --log="$services_dir/postgres/log" \
    --options="-p $port -k $services_dir/postgres -c listen_addresses=127.0.0.1 -c fsync=off" || {
    cat "$services_dir/postgres/log" >&2
    fail "PostgreSQL did not start"
  }
  export LOOM_TEST_POSTGRES_URL=postgresql://loom@127.0.0.1:$port/postgres
  say "PostgreSQL $("$postgres_bin/postgres" --version | awk '{print $3}') on port $port"
}

start_redis() {
  local port tries=50
  port=$(free_port)
  redis-server --port "$port" --bind 127.0.0.1 --dir "$services_dir" --save '' --appendonly no \
    >"$services_dir/redis.log" 2>&1 &
  redis_pid=$!
  until redis-cli -p "$port" ping >/dev/null 2>&1; do
    if ((tries-- <= 0)) || ! kill -0 "$redis_pid" 2>/dev/null; then
      cat "$services_dir/redis.log" >&2
      fail "Redis did not start"
    fi
    sleep 0.1
  done
  export LOOM_TEST_REDIS_URL=redis://127.0.0.1:$port/0
  say "Redis $(redis-server --version | sed 's/.*v=\([^ ]*\).*/\1/') on port $port"
}

stop_services() {
  local status=$?
  trap - EXIT
  if [[ -n $redis_pid ]]; then
    kill "$redis_pid" 2>/dev/null || true
    wait "$redis_pid" 2>/dev/null || true
  fi
  if [[ -f $services_dir/postgres/data/postmaster.pid ]]; then
    as_postgres "$postgres_bin/pg_ctl" stop --silent --mode=immediate \
      --pgdata="$services_dir/postgres/data" || true
  fi
  rm -rf "$services_dir"
  exit "$status"
}

start_services() {
  services_dir=$(mktemp -d "${TMPDIR:-/tmp}/loomwright-tests.XXXXXX")
  chmod 755 "$services_dir"
  trap stop_services EXIT
  trap 'exit 130' INT
  trap 'exit 143' TERM
  start_postgres
  start_redis
}
