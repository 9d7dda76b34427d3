#!/usr/bin/env python3
"""Runs the service for hours over a made-up shop that works, and checks its record all the while: no check may raise an
alarm, for nobody alters anything. Needs Linux and a published program:

    dotnet publish src/SetupAudit -c Release -o /tmp/setupaudit
    python3 tests/nightly/soak.py /tmp/setupaudit/setupaudit [MINUTES [SEED]]

Meanwhile dumps are overwritten, a print-out grows, the service is stopped as it should be and killed as it should not,
copies are made and put back, and bundles written. Each failed check is printed with what it said; the last line counts.
"""

import collections
import json
import os
import pathlib
import random
import shutil
import subprocess
import sys
import tempfile
import time

MACHINES = ["mill-1", "mill-2", "mill-3"]


class Soak:
    def __init__(self, program, minutes, seed):
        self.program, self.minutes, self.random = program, minutes, random.Random(seed)
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="setupaudit-soak-"))
        self.counts = collections.Counter()
        self.alarms = 0
        self.run = None
        self.values = {name: [-310.0, -205.0, -300.0] for name in MACHINES}
        self.cutting = {name: False for name in MACHINES}
        for name in MACHINES:
            (self.folder / "shares" / name).mkdir(parents=True)
        self.write_shop("shop.json", {"Folder": "audit", "Checkpoints": "elsewhere"})
        self.write_shop("copy.json", {"Folder": "put-back"})
        (self.folder / "elsewhere").mkdir()

    def write_shop(self, name, store):
        pattern = r"^(?<time>.{19}) "
        shop = {
            "Shop": {"Name": "Harrow Lane Works (made up)", "TimeZone": "Etc/UTC", "Poll": "00:00:01"},
            "Store": store,
            "Web": {"Url": "http://127.0.0.1:0"},
            "Machines": {
                machine: {
                    "Kind": "mill", "Units": "mm", "Resolution": 0.001, "WithoutPoint": "increments",
                    "Watch": [
                        {"Folder": f"shares/{machine}", "Files": "*.nc", "Read": "data-setting"},
                        {"Folder": f"shares/{machine}", "Files": "*.log", "Read": "print-out", "Lines": "prints"}]}
                for machine in MACHINES},
            "PrintOuts": {"prints": {"Time": "yyyy-MM-dd HH:mm:ss", "Lines": [
                {"Match": pattern + r"CYCLE START (?<program>O\d+)", "Means": "cycle-start"},
                {"Match": pattern + "CYCLE END", "Means": "cycle-end"},
                {"Match": pattern + r"SET (?<register>G\S+) (?<axis>[XYZ]) (?<value>\S+)", "Means": "datum-set"}]}},
        }
        (self.folder / name).write_text(json.dumps(shop, indent=2))

    def start(self):
        self.log = open(self.folder / "service.log", "ab")
        self.run = subprocess.Popen([self.program, "run", "--config", str(self.folder / "shop.json")],
                                    stdin=subprocess.DEVNULL, stdout=self.log, stderr=self.log)
        since = os.path.getsize(self.folder / "service.log")
        while b"Watching" not in (self.folder / "service.log").read_bytes()[since:]:
            if self.run.poll() is not None:
                raise SystemExit(f"the service ended by itself, with {self.run.returncode}: see {self.folder}")
            time.sleep(0.1)

    def end(self, kill):
        self.run.kill() if kill else self.run.terminate()
        self.run.wait()
        self.log.close()
        self.counts["kills" if kill else "stops"] += 1

    def ask(self, what, *words):
        ran = subprocess.run([self.program, *words], capture_output=True, text=True)
        self.counts[what] += 1
        if ran.returncode != 0:
            self.alarms += 1
            print(f"ALARM: {what} ended with {ran.returncode}:\n{ran.stdout[-2000:]}{ran.stderr[-2000:]}", flush=True)
        return ran

    def verify(self, what="verify", shop="shop.json"):
        self.ask(what, "verify", "--config", str(self.folder / shop))

    # One thing that a shop does.
    def work(self):
        machine = self.random.choice(MACHINES)
        share, now = self.folder / "shares" / machine, time.strftime("%Y-%m-%d %H:%M:%S", time.gmtime())
        kind = self.random.random()
        if kind < 0.4:
            axis = self.random.randrange(3)
            self.values[machine][axis] += round(self.random.gauss(0, 0.02), 3)
            x, y, z = self.values[machine]
            (share / "offsets.nc").write_text(f"%\nG10 L2 P1 X{x:.3f} Y{y:.3f} Z{z:.3f}\n%\n")
            self.counts["dumps"] += 1
            return
        with open(share / "prints.log", "a") as prints:
            if kind < 0.6:
                axis = self.random.randrange(3)
                prints.write(f"{now} SET G54 {'XYZ'[axis]} {self.values[machine][axis]:.3f}\n")
            else:
                self.cutting[machine] = not self.cutting[machine]
                prints.write(f"{now} CYCLE START O2041\n" if self.cutting[machine] else f"{now} CYCLE END\n")
        self.counts["lines"] += 1

    def copy(self):
        self.ask("backup", "backup", "--config", str(self.folder / "shop.json"), "--out", str(self.folder / "copy"))
        shutil.rmtree(self.folder / "put-back", ignore_errors=True)
        # The key is in no copy: whoever keeps it brings it back first.
        (self.folder / "put-back").mkdir()
        shutil.copy(self.folder / "audit" / "record.key", self.folder / "put-back" / "record.key")
        self.ask("restore", "restore", "--config", str(self.folder / "copy.json"), "--from", str(self.folder / "copy"))
        self.verify("verify of a copy", "copy.json")

    def bundle(self):
        listed = subprocess.run([self.program, "list", "setups", "--json", "--config", str(self.folder / "shop.json")],
                                capture_output=True, text=True)
        setups = json.loads(listed.stdout or "[]")
        if not setups:
            return
        out = self.folder / "bundle.zip"
        out.unlink(missing_ok=True)
        setup = self.random.choice(setups)["setup"]
        # The setup may have been withdrawn since it was listed.
        ran = subprocess.run([self.program, "export", setup, "--config", str(self.folder / "shop.json"), "--out",
                              str(out)], capture_output=True, text=True)
        if ran.returncode == 0:
            self.ask("verify of a bundle", "verify", str(out))

    def go(self):
        until = time.monotonic() + 60 * self.minutes
        self.start()
        while time.monotonic() < until:
            for _ in range(self.random.randrange(1, 12)):
                self.work()
                time.sleep(self.random.random() * 0.3)
            chance = self.random.random()
            if chance < 0.06:
                self.end(kill=False)
                self.verify("verify while stopped")
                self.start()
            elif chance < 0.12:
                # Between a kill and the next start the newest entries may be in no anchor, and a check says so.
                self.end(kill=True)
                self.start()
                self.verify("verify after a kill")
            elif chance < 0.20:
                self.copy()
            elif chance < 0.30:
                self.bundle()
            else:
                self.verify()
        self.end(kill=False)
        self.verify("verify while stopped")
        self.ask("rebuild", "rebuild", "--config", str(self.folder / "shop.json"))
        counted = ", ".join(f"{number} {what}" for what, number in sorted(self.counts.items()))
        print(f"{self.minutes} min, seed of the shop's work as given: {counted}; {self.alarms} false alarms")


def main():
    minutes = float(sys.argv[2]) if len(sys.argv) > 2 else 60
    soak = Soak(sys.argv[1], minutes, int(sys.argv[3]) if len(sys.argv) > 3 else 20260302)
    soak.go()
    if soak.alarms:
        raise SystemExit(f"what it left lies in {soak.folder}")
    shutil.rmtree(soak.folder)


main()
