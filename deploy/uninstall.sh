#!/usr/bin/env bash
# Takes the service and its programs away. The configuration in /etc/setupaudit and the record in /var/lib/setupaudit
# stay: a record is not thrown away by a script. ROOT=DIR works below DIR.
set -euo pipefail

root=${ROOT:-}
[ -n "$root" ] || [ "$(id -u)" = 0 ] || { printf 'run this as root\n'; exit 2; }
if [ -z "$root" ]; then
  systemctl disable --now setupaudit.service 2>/dev/null || true
fi
rm -f "$root/etc/systemd/system/setupaudit.service"
rm -rf "$root/opt/setupaudit"
[ -n "$root" ] || systemctl daemon-reload
printf 'the programs are gone; %s and %s stay\n' "$root/etc/setupaudit" "$root/var/lib/setupaudit"
