#!/usr/bin/env bash
# Hostile files for every reader, made by mutating the fixtures: as many as asked for, split evenly over the readers.
#
#   bash tests/nightly/fuzz.sh            1,000,000 inputs
#   bash tests/nightly/fuzz.sh 50000      as many
#
# A failure names the seed that repeats it (CsCheck_Seed=...), keeps the input in artifacts/fuzz, and ends with status 1.
# An input that failed belongs into fixtures/ once its fault is mended.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.." || exit
export SETUPAUDIT_FUZZ=${1:-1000000} DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 MSBUILDDISABLENODEREUSE=1

began=$SECONDS
nice dotnet test tests/SetupAudit.Tests -nologo --logger "console;verbosity=normal" \
  --filter "FullyQualifiedName~Readings.Fuzzing" </dev/null
status=$?
printf '%s inputs in %d s, exit status %d\n' "$SETUPAUDIT_FUZZ" "$((SECONDS - began))" "$status"
exit "$status"
