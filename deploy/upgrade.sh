#!/usr/bin/env bash
# Puts another version in place of the one that runs, and goes back where it does not do.
#
#   sudo bash upgrade.sh PUBLISHED
#
# The new program checks the configuration first; the service goes on meanwhile. Then it stops, the store is copied, and
# the new version starts. Where it does not come up, the old version and the copy of the store take its place again.
# KEEP_COPY=yes keeps that copy after an upgrade that went well. ROOT=DIR works below DIR; SERVICE names the command
# that is called with stop and start, for tests.
set -euo pipefail

published=${1:?give the folder that dotnet publish wrote}
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=${ROOT:-}
application=$root/opt/setupaudit
state=$root/var/lib/setupaudit
configuration=$root/etc/setupaudit/shop.json
copy=$state.before-upgrade

say() { printf '%s\n' "$*"; }
service() {
  if [ -n "${SERVICE:-}" ]; then "$SERVICE" "$1"
  elif [ -z "$root" ]; then systemctl "$1" setupaudit.service
  fi
}
switch_to() {
  ln -sfn "$1" "$application/current.next"
  mv -T "$application/current.next" "$application/current"
}

[ -e "$application/current" ] || { say "nothing is installed here: use install.sh"; exit 2; }
[ -e "$copy" ] && { say "$copy is there: an upgrade was cut off; look, then take it away"; exit 2; }
before=$(readlink "$application/current")
bash "$here/install.sh" "$published"
version=$(cd "$published" && find . -type f -exec cksum {} + | sort | cksum | cut -d' ' -f1)
[ "$version" != "$before" ] || { say "that version is in place already"; exit 0; }

if ! "$application/$version/setupaudit" check --config "$configuration"; then
  say "the new version finds fault with $configuration: nothing was changed, $before goes on"
  exit 1
fi

service stop
cp -a --reflink=auto "$state" "$copy"
switch_to "$version"
if service start; then
  [ "${KEEP_COPY:-}" = yes ] || rm -rf "$copy"
  say "upgraded from $before to $version; the old version stays in $application/$before"
  exit 0
fi

say "version $version does not come up: going back to $before"
service stop || true
switch_to "$before"
rm -rf "$state.failed"
mv "$state" "$state.failed"
mv "$copy" "$state"
service start
say "$before runs again on the store as it was before; what the new version left is in $state.failed"
exit 1
