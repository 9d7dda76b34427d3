#!/usr/bin/env bash
# Installs SetupAudit as a systemd service, or brings an installation to the state this script describes: it may be run
# again at any time. It never touches an existing configuration or store.
#
#   sudo bash install.sh PUBLISHED       PUBLISHED is what `dotnet publish src/SetupAudit -c Release -o PUBLISHED` gave
#
# ROOT=DIR installs below DIR and starts nothing, for packaging and tests.
set -euo pipefail

published=${1:?give the folder that dotnet publish wrote}
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=${ROOT:-}
application=$root/opt/setupaudit
configuration=$root/etc/setupaudit
state=$root/var/lib/setupaudit
units=$root/etc/systemd/system

say() { printf '%s\n' "$*"; }

[ -x "$published/setupaudit" ] || { say "no setupaudit in $published: publish it first"; exit 2; }
[ -n "$root" ] || [ "$(id -u)" = 0 ] || { say "run this as root"; exit 2; }

if [ -z "$root" ] && ! id -u setupaudit >/dev/null 2>&1; then
  useradd --system --home-dir /var/lib/setupaudit --shell /usr/sbin/nologin setupaudit
  say "made the user setupaudit; give it the right to read the watched folders, and no other"
fi

version=$(cd "$published" && find . -type f -exec cksum {} + | sort | cksum | cut -d' ' -f1)
install -d -m 0755 "$application" "$units"
install -d -m 0750 "$configuration" "$state"
if [ ! -d "$application/$version" ]; then
  rm -rf "$application/$version.part"
  cp -R "$published" "$application/$version.part"
  chmod -R go-w,a+rX "$application/$version.part"
  mv "$application/$version.part" "$application/$version"
fi

if [ ! -e "$configuration/shop.json" ]; then
  sed 's|"Store": { "Folder": "audit" }|"Store": { "Folder": "/var/lib/setupaudit/audit" }|' \
    "$here/sample-shop.json" >"$configuration/shop.json"
  say "wrote $configuration/shop.json: a made-up shop, to be changed before the first start"
fi
if [ -z "$root" ]; then
  chown -R root:setupaudit "$configuration"
  chmod 0640 "$configuration/shop.json"
  chown setupaudit:setupaudit "$state"
fi

install -m 0644 "$here/setupaudit.service" "$units/setupaudit.service"
# The first version is put in place here; a later one only by upgrade.sh, which can go back.
[ -e "$application/current" ] || ln -s "$version" "$application/current"
say "installed $version in $application"

if [ -z "$root" ]; then
  systemctl daemon-reload
  systemctl enable setupaudit.service
  say "next: change /etc/setupaudit/shop.json, then"
  # As the service's account, which sees what it may see, and makes nothing that belongs to root.
  say "  sudo -u setupaudit /opt/setupaudit/current/setupaudit check --config /etc/setupaudit/shop.json"
  say "  sudo systemctl start setupaudit"
fi
