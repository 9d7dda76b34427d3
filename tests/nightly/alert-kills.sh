#!/usr/bin/env bash
# Kills the built program while it records, puts up and sends alerts, 500 times or as often as is given, against a
# receiver that fails, stalls and answers late; see tests/SetupAudit.EndToEnd/Alerts/KilledSendingTests.cs.
#
#   bash tests/nightly/alert-kills.sh [COUNT]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
export SETUPAUDIT_KILLS="${1:-500}"
dotnet test tests/SetupAudit.EndToEnd --nologo --filter "FullyQualifiedName~KilledSendingTests" \
  --logger "console;verbosity=detailed"
