#!/usr/bin/env python3
"""Measures what watching costs and how soon a finding follows a write. Needs Linux and a published program:

    dotnet publish src/SetupAudit -c Release -o /tmp/setupaudit
    python3 tests/nightly/share-figures.py /tmp/setupaudit/setupaudit [idle|latency]

idle     10,000 watched files on a local disk, polled every 5 s: processor time, memory, open handles.
latency  a finding for every write at a poll of 2 s (the defaults): from the end of the write to the finding's commit.
"""

import datetime
import json
import os
import pathlib
import random
import shutil
import socket
import sqlite3
import subprocess
import sys
import tempfile
import time

TICKS = os.sysconf("SC_CLK_TCK")


def free_port():
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


def shop(folder, machines, poll, limits):
    config = {
        "Shop": {"Name": "Harrow Lane Works (made up)", "TimeZone": "Etc/UTC", "Poll": poll},
        "Store": {"Folder": "audit"},
        "Machines": {
            name: {"Kind": "mill", "Units": "mm", "Resolution": 0.001, "WithoutPoint": "increments",
                   "Watch": [{"Folder": f"shares/{name}", "Files": "*.nc", "Read": "data-setting"}]}
            for name in machines},
        "Limits": limits,
        "Web": {"Url": f"http://127.0.0.1:{free_port()}"},
    }
    for name in machines:
        (folder / "shares" / name).mkdir(parents=True)
    (folder / "shop.json").write_text(json.dumps(config, indent=2))


def start(program, folder):
    # Not an open file of the run: the program's handles are counted.
    return subprocess.Popen([program, "run", "--config", str(folder / "shop.json")],
                            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def processor_seconds(pid):
    fields = pathlib.Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / TICKS


def memory_mib(pid, what="VmRSS"):
    for line in pathlib.Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith(what):
            return int(line.split()[1]) / 1024
    return 0


def handles_in(pid, folder):
    found = 0
    for handle in pathlib.Path(f"/proc/{pid}/fd").iterdir():
        try:
            found += os.readlink(handle).startswith(str(folder))
        except OSError:
            pass
    return found


def rows(folder, sql):
    name = folder / "audit" / "audit.db"
    if not name.exists():
        return []
    with sqlite3.connect(f"file:{name}?mode=ro", uri=True) as store:
        return store.execute(sql).fetchall()


def idle(program, folder, files=10_000):
    machines = [f"mill-{number}" for number in range(10)]
    shop(folder, machines, "00:00:05", [])
    old = time.time() - 86_400
    for name in machines:
        for number in range(files // 10):
            path = folder / "shares" / name / f"{number:04}.nc"
            path.write_text("%\nG10 L2 P1 X-310.2 Y-205. Z-300.\n%\n")
            os.utime(path, (old + number, old + number))
    run = start(program, folder)
    try:
        while not rows_or_none(folder) or rows(folder, "SELECT COUNT(*) FROM arrival")[0][0] < files:
            time.sleep(1)
        # What was taken in is still folded for a while, and the runtime compiles its hot paths once more.
        time.sleep(240)
        seconds = 180
        most = handles = 0
        began, at = processor_seconds(run.pid), time.monotonic()
        while time.monotonic() - at < seconds:
            handles = max(handles, handles_in(run.pid, folder / "shares"))
            most = max(most, memory_mib(run.pid))
            time.sleep(1)
        spent = processor_seconds(run.pid) - began
        print(f"{files} files, 10 folders, poll 5 s, over {seconds} s: {100 * spent / (time.monotonic() - at):.2f} % of a "
              f"core, {most:.0f} MiB resident at most (peak while taking in: {memory_mib(run.pid, 'VmHWM'):.0f} MiB), "
              f"{handles} handles on the shares at most")
    finally:
        run.terminate()
        run.wait()


def rows_or_none(folder):
    try:
        return rows(folder, "SELECT COUNT(*) FROM arrival")
    except sqlite3.Error:
        return []


def latency(program, folder, writes=100):
    shop(folder, ["mill-1", "mill-2", "mill-3"], "00:00:02",
         [{"Machine": "mill-1", "Register": "G5*", "Axis": "X", "Change": 0.01, "Unit": "mm"}])
    run = start(program, folder)
    random.seed(1)
    path = folder / "shares" / "mill-1" / "dump.nc"
    times = {}
    try:
        time.sleep(5)
        for number in range(writes):
            path.write_text(f"%\nG10 L2 P1 X-{100 + number}.500 Y-205. Z-300.\n%\n")
            times[f"-{100 + number}.5"] = time.time()
            time.sleep(7 + random.random() * 2)
        time.sleep(10)
    finally:
        run.terminate()
        run.wait()
    taken = []
    sql = """SELECT derived.body, batch.recorded_utc FROM derived JOIN batch ON batch.seq = derived.batch
             WHERE derived.kind = 'finding' AND derived.body IS NOT NULL ORDER BY derived.seq"""
    first = {}
    for body, recorded in rows(folder, sql):
        finding = json.loads(body)
        if finding["rule"] == "over-limit":
            first.setdefault((finding["at"], finding["finding"]), recorded)
    written = sorted(times.values())
    for (at, _), recorded in first.items():
        moment = datetime.datetime.fromisoformat(recorded.replace("Z", "+00:00")[:26].rstrip("+") + "+00:00").timestamp()
        before = [one for one in written if one <= moment]
        happened = datetime.datetime.fromisoformat(at.replace("Z", "+00:00")).timestamp()
        near = [one for one in before if abs(one - happened) < 2]
        if near:
            taken.append(moment - near[-1])
    taken.sort()
    if not taken:
        print("no finding")
        return
    print(f"{len(taken)} findings of {writes} writes, poll 2 s: median {taken[len(taken) // 2]:.2f} s, "
          f"p99 {taken[min(len(taken) - 1, int(len(taken) * 0.99))]:.2f} s, longest {taken[-1]:.2f} s")


def main():
    program, what = sys.argv[1], sys.argv[2:] or ["idle", "latency"]
    for name in what:
        folder = pathlib.Path(tempfile.mkdtemp(prefix="setupaudit-figures-"))
        try:
            {"idle": idle, "latency": latency}[name](program, folder)
        finally:
            shutil.rmtree(folder)


main()
