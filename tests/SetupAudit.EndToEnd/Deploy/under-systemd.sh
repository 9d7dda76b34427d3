#!/usr/bin/env bash
# Boots a systemd of its own in a copy of this system that is thrown away, installs the program there, runs it as its
# unit says, and writes what it saw. Needs root, systemd-nspawn and overlay mounts; changes nothing outside FOLDER.
#
#   unshare --mount --propagation private bash under-systemd.sh PUBLISHED DEPLOY FOLDER
#
# FOLDER/told holds what was seen; it is not there where no systemd boots here.
set -euo pipefail
published=$1 deploy=$2 folder=$3

# All mounts are of this process and go with it.
mkdir -p /run/systemd/nspawn "$folder/top"
mount -t tmpfs tmpfs /run/systemd/nspawn
mount -t tmpfs tmpfs "$folder/top"
mkdir "$folder/top/changes" "$folder/top/work" "$folder/top/root"
mount -t overlay overlay -o "lowerdir=/,upperdir=$folder/top/changes,workdir=$folder/top/work" "$folder/top/root"
root=$folder/top/root

rm -rf "$root/opt/setupaudit" "$root/etc/setupaudit" "$root/var/lib/setupaudit"
mkdir -p "$root/check" "$root/srv/shares/mill-3"
printf '%%\nG10 L2 P1 X-1. Y-2. Z-3.\n%%\n' >"$root/srv/shares/mill-3/a.nc"
cat >"$root/check/shop.json" <<'END'
{ "Shop": { "Name": "made up", "TimeZone": "Europe/London" }, "Store": { "Folder": "/var/lib/setupaudit/audit" },
  "Machines": { "mill-3": { "Kind": "mill", "Units": "mm",
    "Watch": [ { "Folder": "/srv/shares/mill-3", "Files": "*.nc", "Read": "data-setting" } ] } },
  "Web": { "Url": "http://127.0.0.1:8460" } }
END

cat >"$root/check/check.sh" <<'END'
exec >/told/told 2>&1
said() { journalctl -u setupaudit --no-pager -o cat 2>/dev/null; }
bash /check/deploy/install.sh /check/published
echo "install: $?"
cp /check/shop.json /etc/setupaudit/shop.json
systemctl start setupaudit
echo "start: $?"
for _ in $(seq 120); do said | grep -q 'Read 1 arrivals' && break; sleep 0.5; done
pid=$(systemctl show -P MainPID setupaudit)
grep -E '^(NoNewPrivs|Seccomp|CapEff|CapBnd):' "/proc/$pid/status" | tr -s '\t' ' '
echo "user: $(stat -c %U "/proc/$pid")"
for where in /srv/shares/mill-3 /etc /etc/setupaudit /opt/setupaudit /var/lib /home /mnt /var/lib/setupaudit /tmp; do
  if nsenter -t "$pid" -m -- sh -c "touch $where/x && rm $where/x" 2>/dev/null; then echo "may write: $where"; fi
done
systemctl reload setupaudit
echo "reload: $?"
for _ in $(seq 60); do said | grep -q 'has not changed' && break; sleep 0.5; done
systemctl stop setupaudit
echo "stop: $?"
systemctl show setupaudit -p Result,NRestarts,ExecMainStatus
said
echo done
systemctl --force --force poweroff
END

cat >"$root/etc/systemd/system/check.service" <<'END'
[Unit]
Requires=basic.target
After=basic.target
[Service]
Type=oneshot
ExecStart=/bin/bash /check/check.sh
END
printf '[Unit]\nRequires=basic.target\nWants=check.service\n' >"$root/etc/systemd/system/check.target"

mkdir "$folder/out"
# It has its own processes, names and loopback; nothing of it is seen from outside.
timeout --kill-after=10 300 systemd-nspawn --quiet --register=no --keep-unit --private-network --link-journal=no \
  --machine="setupaudit-$$" --uuid="$(cat /proc/sys/kernel/random/uuid)" --directory="$root" \
  --bind-ro="$published:/check/published" --bind-ro="$deploy:/check/deploy" --bind="$folder/out:/told" \
  --boot systemd.unit=check.target >"$folder/log" 2>&1 </dev/null || true
if [ -e "$folder/out/told" ]; then cp "$folder/out/told" "$folder/told"; fi
