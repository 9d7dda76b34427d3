#!/usr/bin/env bash
# Builds everything once and runs every test. Needs the .NET 10 SDK; what else tests use is installed where that is
# possible, else the tests that want it are skipped, counted and named with the reason.
#
#   bash tests/run.sh                     all tests
#   bash tests/run.sh --filter EXPRESSION those that the expression of `dotnet test` picks
#
# The last line is the count: "N passed, N failed", with ", N skipped" where any were. The exit status is 0 only where
# tests ran and none failed.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 DOTNET_CLI_UI_LANGUAGE=en DOTNET_SKIP_FIRST_TIME_EXPERIENCE=1
export MSBUILDDISABLENODEREUSE=1
results=artifacts/test-results
projects=(tests/SetupAudit.Tests tests/SetupAudit.EndToEnd)

# How to see that it is there | the Debian packages that bring it (a pattern of names, newest taken) | who wants it.
needs=(
  'compgen -G "/usr/lib/*/libicuuc.so.*"|^libicu[0-9]+$|the runtime: cultures'
  'test -e /usr/share/zoneinfo/Europe/London|^tzdata$|the runtime: time zones'
  'command -v pdftotext|^poppler-utils$|tests of reports on paper: reads a .pdf as others do'
  'command -v git|^git$|the test of house style: lists the tracked files'
  'command -v unzip|^unzip$|tests of evidence bundles: a bundle opens with public tools'
  'test -x /usr/sbin/smbd|^samba$|tests of real shares: an SMB server'
  'command -v fusermount3|^fuse3$|tests of real shares: file systems in user space'
  'command -v smbnetfs|^smbnetfs$|tests of real shares: an SMB mount that keeps one connection'
  'command -v rclone|^rclone$|tests of real shares: an SMB mount that caches listings'
  'command -v sshfs|^sshfs$|tests of real shares: a mount over SSH'
  'test -x /usr/sbin/rsyslogd|^rsyslog$|tests of alerts: a syslog daemon that is not ours'
  'test -x /usr/sbin/sshd|^openssh-server$|tests of real shares and of SFTP folders: an SSH server'
  'command -v systemd-analyze|^systemd$|tests of the unit file'
  'command -v systemd-nspawn|^systemd-container$|the test that runs the unit under a systemd of its own'
  'compgen -G "/usr/lib/postgresql/*/bin/initdb"|^postgresql-[0-9]+$|tests of rows in PostgreSQL: a server of their own'
  'command -v shellcheck|^shellcheck$|tests of the scripts in deploy'
  'command -v strace|^strace$|tests of crashes: kills the program, or fails it, at a chosen system call'
)

say() { printf '%s\n' "$*"; }

have() { (eval "$1") >/dev/null 2>&1; }

as_root() {
  if [ "$(id -u)" = 0 ]; then "$@"; else sudo -n "$@"; fi
}

# One package at a time: that one cannot be had must not keep the others away.
install_missing() {
  local need probe pattern wanted package listed=no
  for need in "${needs[@]}"; do
    IFS='|' read -r probe pattern wanted <<<"$need"
    have "$probe" && continue
    if [ "$listed" = no ]; then as_root apt-get -q -o DPkg::Lock::Timeout=300 update >/dev/null 2>&1; listed=yes; fi
    package=$(apt-cache pkgnames 2>/dev/null | grep -E "$pattern" | sort -V | tail -n 1)
    [ -n "$package" ] && DEBIAN_FRONTEND=noninteractive as_root apt-get -q -o DPkg::Lock::Timeout=300 \
      install -y --no-install-recommends "$package" </dev/null >/dev/null 2>&1
    have "$probe" && say "installed $package for $wanted" || say "NOT THERE and not to be installed here: $pattern ($wanted)"
  done
}

# The tests that were skipped, each with its reason, from a result file.
told_why() {
  awk 'BEGIN { RS = "<UnitTestResult " }
    /outcome="NotExecuted"/ {
      name = $0; sub(/.*testName="/, "", name); sub(/".*/, "", name)
      why = $0; if (!sub(/.*<Message>/, "", why)) why = "no reason given"; sub(/<\/Message>.*/, "", why)
      print "SKIPPED " name ": " why
    }' "$@" | sed -e 's/&quot;/"/g; s/&lt;/</g; s/&gt;/>/g; s/&amp;/\&/g'
}

totals() {
  awk -v failed="$1" '/^[A-Z][a-z]+!  - Failed: .*Total:/ {
      gsub(/,/, "")
      for (i = 1; i < NF; i++) {
        if ($i == "Failed:") failed += $(i + 1)
        if ($i == "Passed:") passed += $(i + 1)
        if ($i == "Skipped:") skipped += $(i + 1)
      }
    }
    END { printf "%d passed, %d failed", passed, failed; if (skipped) printf ", %d skipped", skipped; print "" }' "$2"
}

if ! command -v dotnet >/dev/null; then
  say "dotnet is not there: install the .NET 10 SDK, see DEVELOPERS.md"
  say "0 passed, 0 failed"
  exit 1
fi
if command -v apt-get >/dev/null; then install_missing; fi

rm -rf "$results"; mkdir -p "$results"
log=$results/summary.log
: >"$log"

if ! dotnet build SetupAudit.sln -nologo -v minimal -p:UseSharedCompilation=false </dev/null; then
  say "the build failed: no test ran"
  say "0 passed, 0 failed"
  exit 1
fi

status=0 aborted=0
for project in "${projects[@]}"; do
  name=$(basename "$project")
  dotnet test "$project" --no-build --results-directory "$results" --logger "trx;LogFileName=$name.trx" \
    --logger "console;verbosity=minimal" --blame-hang-timeout 5m --blame-hang-dump-type none \
    "$@" </dev/null 2>&1 | tee "$results/$name.log"
  ended=${PIPESTATUS[0]}
  cat "$results/$name.log" >>"$log"
  [ "$ended" = 0 ] || status=1
  # A run that was cut off prints no count: what it was cut off in counts as one that failed.
  if ! grep -q '^[A-Z][a-z]*!  - Failed: ' "$results/$name.log"; then
    if [ "$ended" != 0 ]; then say "$name was cut off: counted as one failed"; aborted=$((aborted + 1)); fi
    if [ $# = 0 ]; then say "$name: no test came to its end"; status=1; fi
  fi
done

find "$results" -name '*.trx' | sort | while read -r file; do told_why "$file"; done
line=$(totals "$aborted" "$log")
case "$line" in
  "0 passed, 0 failed"*) say "no test ran: that is a failure too"; status=1 ;;
  *", 0 failed"*) ;;
  *) status=1 ;;
esac
[ "$status" = 0 ] || say "something failed; the results are in $results"
say "$line"
exit "$status"
