#!/usr/bin/env python3
"""How long it takes from a dump on a share to the message at the receiver, with the usual poll of 2 s.

    python3 tests/nightly/alert-figures.py PROGRAM [COUNT]

PROGRAM is the built setupaudit (an executable, or setupaudit.dll, which dotnet runs). COUNT dumps (100) are put on the
shares of five machines at random moments, each renamed into place whole; each moves Z beyond a limit. The time runs
from the rename to the moment the receiver has read the call. Prints the figures; exits 1 where a message is missing or
the 99th percentile is above 8 s.
"""
import http.server, json, os, random, shutil, subprocess, sys, tempfile, threading, time

MACHINES = ["mill-%d" % number for number in range(1, 6)]
came = {}
lock = threading.Lock()


class Receiver(http.server.BaseHTTPRequestHandler):
    def do_POST(self):
        body = self.rfile.read(int(self.headers["Content-Length"]))
        now = time.time()
        with lock:
            for finding in findings(json.loads(body)):
                came.setdefault(finding, now)
        self.send_response(204)
        self.end_headers()

    def log_message(self, *_):
        pass


def findings(value):
    """Every text that names an over-limit finding, wherever in the document it stands."""
    if isinstance(value, dict):
        for inner in value.values():
            yield from findings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from findings(inner)
    elif isinstance(value, str) and "/over-limit/" in value and " " not in value:
        yield value.split("#")[0]


def main():
    program = sys.argv[1]
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 100
    command = ["dotnet", "exec", program] if program.endswith(".dll") else [program]
    folder = tempfile.mkdtemp(prefix="setupaudit-alerts-")
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Receiver)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    machines = {}
    for name in MACHINES:
        os.makedirs(os.path.join(folder, name))
        machines[name] = {"Kind": "mill", "Units": "mm",
                          "Watch": [{"Folder": name, "Files": "*.nc", "Read": "data-setting"}]}
    with open(os.path.join(folder, "secret"), "w") as secret:
        secret.write("whsec_" + "MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw\n")
    os.chmod(os.path.join(folder, "secret"), 0o600)
    config = os.path.join(folder, "shop.json")
    with open(config, "w") as file:
        json.dump({
            "Shop": {"Name": "made up", "TimeZone": "UTC"}, "Store": {"Folder": "audit"}, "Machines": machines,
            "Setups": {"QuietMinutes": 1}, "Rules": {"axis-not-set": "off", "implausible-jump": "off"},
            "Limits": [{"Register": "G54", "Axis": "Z", "Change": 1}],
            "Alerts": {"Most": 10000, "Webhook": {
                "Url": "http://127.0.0.1:%d/" % server.server_port, "SecretFile": "secret"}},
            "Web": {"Url": "http://127.0.0.1:%d" % (20000 + os.getpid() % 20000)},
        }, file)
    start = time.time() - 400 * 3600

    def put(machine, number, z):
        """A dump whose time on the share is its own setup's: two hours after the one before."""
        part = os.path.join(folder, machine, ".part")
        with open(part, "w") as file:
            file.write("%%\nG10 L2 P1 X-400.000 Y-200.000 Z%.3f\n%%\n" % z)
        at = int(start + number * 2 * 3600)
        os.utime(part, (at, at))
        os.rename(part, os.path.join(folder, machine, "%05d.nc" % number))
        return "%s@%s/over-limit/G54.Z" % (machine, time.strftime("%Y%m%d-%H%M%S", time.gmtime(at)))

    for machine in MACHINES:
        put(machine, 0, -300)
    subprocess.run(command + ["once", "--config", config], check=True, stdout=subprocess.DEVNULL)
    service = subprocess.Popen(command + ["run", "--config", config], stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL)
    time.sleep(8)
    put_at = {}
    try:
        for number in range(count):
            machine = MACHINES[number % len(MACHINES)]
            step = number // len(MACHINES) + 1
            now = time.time()
            put_at[put(machine, step, -300 - 5 * (step % 2))] = now
            time.sleep(random.uniform(0.5, 3.5))
        time.sleep(20)
    finally:
        service.terminate()
        service.wait(60)
    took = sorted(came[key] - at for key, at in put_at.items() if key in came)
    missing = [key for key in put_at if key not in came]
    shutil.rmtree(folder)
    if not took:
        print("nothing came")
        return 1
    rank = lambda share: took[min(len(took) - 1, int(share * len(took)))]
    print("%d dumps, %d missing: median %.2f s, p90 %.2f s, p99 %.2f s, longest %.2f s"
          % (len(put_at), len(missing), rank(0.5), rank(0.9), rank(0.99), took[-1]))
    for key in missing[:10]:
        print("missing:", key)
    return 1 if missing or rank(0.99) > 8 else 0


sys.exit(main())
