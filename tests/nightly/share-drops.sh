#!/usr/bin/env bash
# A thousand share drops: real servers, real mounts, the built program (tests/SetupAudit.EndToEnd/Shares). About half an
# hour, mostly waiting. Needs root, /dev/fuse, and what tests/run.sh installs.
#
#   bash tests/nightly/share-drops.sh [DROPS] [SEED]
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
export SETUPAUDIT_DROPS="${1:-1000}" SETUPAUDIT_SEED="${2:-$RANDOM}"
echo "$SETUPAUDIT_DROPS drops, seed $SETUPAUDIT_SEED"
exec dotnet test tests/SetupAudit.EndToEnd --nologo -v q --filter "FullyQualifiedName~ShareDropTests" \
  --logger "console;verbosity=detailed"
