#!/usr/bin/env python3
"""How long `once` takes over the same dumps with the rows in SQLite and in PostgreSQL.

    python3 tests/nightly/store-figures.py PROGRAM [DUMPS] [ROUNDS]

PROGRAM is the published executable. The server is one of this script's own, on this computer, with its usual settings
(fsync and synchronous_commit on). Needs a PostgreSQL server to be installed, and root to run it as its own user.
"""
import glob
import json
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

PORT = 15499
program, dumps, rounds = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 2000, \
    int(sys.argv[3]) if len(sys.argv) > 3 else 3
tools = sorted(glob.glob("/usr/lib/postgresql/*/bin"))[-1]
top = tempfile.mkdtemp(prefix="setupaudit-figures-")
os.chmod(top, 0o755)


def as_server(*command):
    return ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups", *command] \
        if os.geteuid() == 0 else list(command)


def write_dumps():
    """Six registers and 230 tools, one register moving every 48th dump: some 5 KB each."""
    folder = os.path.join(top, "shares")
    os.mkdir(folder)
    for number in range(dumps):
        lines = ["%", f"(DUMP {number})"]
        lines += [f"G90 G10 L2 P{one} X-{300 + one}.{number // 48 % 10}25 Y-205.5 Z-310.{number % 10}" for one in range(1, 7)]
        lines += [f"G10 L10 P{tool} R{100 + tool}.125" for tool in range(1, 231)]
        path = os.path.join(folder, f"{number:06}.nc")
        with open(path, "w") as file:
            file.write("\n".join(lines + ["%", ""]))
        moment = 1772434800 + 300 * number
        os.utime(path, (moment, moment))


def once(name, store):
    config = os.path.join(top, f"{name}.json")
    with open(config, "w") as file:
        json.dump({"Shop": {"Name": "Harrow Lane Works (made up)", "TimeZone": "UTC"}, "Store": store,
                   "Machines": {"mill-3": {"Kind": "mill", "Units": "mm", "Watch": [
                       {"Folder": "shares", "Files": "*.nc", "Read": "data-setting"}]}}}, file)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    began = time.monotonic()
    subprocess.run([program, "once", "--config", config], check=True, capture_output=True)
    took = time.monotonic() - began
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    subprocess.run([program, "verify", "--config", config], check=True, capture_output=True)
    return took, cpu


def main():
    write_dumps()
    data = os.path.join(top, "data")
    os.mkdir(data)
    if os.geteuid() == 0:
        shutil.chown(data, "postgres", "postgres")
    subprocess.run(as_server(f"{tools}/initdb", "-D", data, "-A", "trust", "-U", "test", "--locale=C.UTF-8", "-E",
                             "UTF8"), check=True, capture_output=True, cwd="/")
    server = subprocess.Popen(as_server(f"{tools}/postgres", "-D", data, "-p", str(PORT), "-c",
                                        "listen_addresses=127.0.0.1", "-c", f"unix_socket_directories={data}"),
                              stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd="/")
    psql = [f"{tools}/psql", "-q", "-h", "127.0.0.1", "-p", str(PORT), "-U", "test", "-d", "postgres", "-c"]
    try:
        while subprocess.run([*psql, "SELECT 1"], capture_output=True).returncode != 0:
            time.sleep(0.2)
        times = {"SQLite": [], "PostgreSQL": []}
        for number in range(rounds):
            times["SQLite"].append(once(f"s{number}", {"Folder": f"sqlite-{number}"}))
            subprocess.run([*psql, f"CREATE DATABASE shop_{number}"], check=True)
            times["PostgreSQL"].append(once(f"p{number}", {
                "Folder": f"postgres-{number}",
                "Postgres": f"Host=127.0.0.1;Port={PORT};Database=shop_{number};Username=test"}))
        for name, all_of in times.items():
            walls, cpus = zip(*all_of)
            print(f"{name}: {statistics.median(walls):.1f} s from start to end, {statistics.median(cpus):.1f} s of "
                  f"processor time (rounds: {', '.join(f'{wall:.1f}' for wall in walls)})")
    finally:
        server.terminate()
        server.wait()
        shutil.rmtree(top, ignore_errors=True)


main()
