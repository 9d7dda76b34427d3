#!/usr/bin/env python3
"""Measures what watching costs and how soon a finding follows a write. Needs Linux and a published program:

    dotnet publish src/SetupAudit -c Release -o /tmp/setupaudit
    python3 tests/nightly/share-figures.py /tmp/setupaudit/setupaudit [idle|latency] [--rest S] [--for S]

idle     10,000 watched files on a local disk, polled every 5 s: processor time, memory, open handles. It rests 240 s
         after taking in and measures for 180 s unless told otherwise. Of memory it says how much is the process's own
         and changed (what the system cannot drop) and how much are pages of files. Two programs to compare, joined by
         a comma, run beside each other: what else the machine does then falls on both. At the end, where there is a C
         compiler, it says what the same calls cost in a C program that does nothing else (floor.c).
latency  a finding for every write at a poll of 2 s (the defaults): from the end of the write to the finding's commit.
"""

import argparse
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


def memory_parts(pid):
    """What is its own and changed, and what are pages of files, which other processes share and the system may drop."""
    changed = 0
    for line in pathlib.Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
        if line.startswith("Private_Dirty:"):
            changed = int(line.split()[1]) / 1024
    return changed, memory_mib(pid, "RssFile")


def open_below(pid, folder):
    found = set()
    for handle in pathlib.Path(f"/proc/{pid}/fd").iterdir():
        try:
            path = os.readlink(handle)
            if path.startswith(str(folder)):
                found.add((handle.name, path))
        except OSError:
            pass
    return found


def handles_held(pid, folder):
    """A listing has its folder open for some milliseconds; what is open half a second later still is held."""
    found = open_below(pid, folder)
    if not found:
        return 0
    time.sleep(0.5)
    return len(found & open_below(pid, folder))


def switches(pid):
    total = 0
    for task in pathlib.Path(f"/proc/{pid}/task").iterdir():
        try:
            total += int((task / "schedstat").read_text().split()[2])
        except OSError:
            pass
    return total


def rows(folder, sql):
    name = folder / "audit" / "audit.db"
    if not name.exists():
        return []
    with sqlite3.connect(f"file:{name}?mode=ro", uri=True) as store:
        return store.execute(sql).fetchall()


def idle(programs, folder, rest, seconds, files=10_000):
    runs = []
    try:
        for number, program in enumerate(programs):
            own = folder / str(number)
            own.mkdir()
            watched(own, files)
            runs.append((program, own, start(program, own)))
        for _, own, _ in runs:
            while not rows_or_none(own) or rows(own, "SELECT COUNT(*) FROM arrival")[0][0] < files:
                time.sleep(1)
        # What was taken in is still folded for a while, and the runtime compiles its hot paths once more.
        time.sleep(rest)
        measure(runs, seconds, files)
    finally:
        for _, _, run in runs:
            run.terminate()
        for _, _, run in runs:
            run.wait()
    floor(runs[0][1] / "shares")


def floor(shares):
    compiler = shutil.which("cc")
    if compiler is None:
        print("No C compiler: what the calls alone cost is not measured.")
        return
    program = shares.parent / "floor"
    subprocess.run([compiler, "-O2", pathlib.Path(__file__).with_name("floor.c"), "-o", program], check=True)
    told = subprocess.run([program, "5", "12", *sorted(shares.iterdir())], check=True, capture_output=True, text=True)
    print(f"The same calls in C, poll 5 s, over 60 s: {told.stdout.strip()}, load {os.getloadavg()[0]:.1f}")


def watched(folder, files):
    machines = [f"mill-{number}" for number in range(10)]
    shop(folder, machines, "00:00:05", [])
    old = time.time() - 86_400
    for name in machines:
        for number in range(files // 10):
            path = folder / "shares" / name / f"{number:04}.nc"
            path.write_text("%\nG10 L2 P1 X-310.2 Y-205. Z-300.\n%\n")
            os.utime(path, (old + number, old + number))


def measure(runs, seconds, files):
    most, handles = [0] * len(runs), [0] * len(runs)
    began, at = [(processor_seconds(run.pid), switches(run.pid)) for _, _, run in runs], time.monotonic()
    while time.monotonic() - at < seconds:
        for index, (_, own, run) in enumerate(runs):
            handles[index] = max(handles[index], handles_held(run.pid, own / "shares"))
            most[index] = max(most[index], memory_mib(run.pid))
        time.sleep(1)
    took = time.monotonic() - at
    for index, (program, _, run) in enumerate(runs):
        spent, switched = processor_seconds(run.pid) - began[index][0], switches(run.pid) - began[index][1]
        changed, of_files = memory_parts(run.pid)
        print(f"{program}: {files} files, 10 folders, poll 5 s, over {took:.0f} s: "
              f"{100 * spent / took:.2f} % of a core, {max(0, switched) / took:.0f} switches a second, {most[index]:.0f} MiB resident at most (at the end "
              f"{changed:.0f} its own and changed, {of_files:.0f} pages of files; peak while taking in "
              f"{memory_mib(run.pid, 'VmHWM'):.0f}), {handles[index]} handles held on the shares, "
              f"load {os.getloadavg()[0]:.1f}")


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
    asked = argparse.ArgumentParser()
    asked.add_argument("program")
    asked.add_argument("what", nargs="*", default=["idle", "latency"])
    asked.add_argument("--rest", type=float, default=240)
    asked.add_argument("--for", type=float, default=180, dest="seconds")
    given = asked.parse_args()
    programs = given.program.split(",")
    for name in given.what:
        folder = pathlib.Path(tempfile.mkdtemp(prefix="setupaudit-figures-"))
        try:
            if name == "idle":
                idle(programs, folder, given.rest, given.seconds)
            else:
                latency(programs[0], folder)
        finally:
            shutil.rmtree(folder)


main()
