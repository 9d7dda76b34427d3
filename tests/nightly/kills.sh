#!/usr/bin/env bash
# A thousand kills at chosen system calls (SETUPAUDIT_KILLS for another number): nothing lost, nothing twice, the record
# verifies. Build first: dotnet build SetupAudit.sln
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
SETUPAUDIT_KILLS=${SETUPAUDIT_KILLS:-1000} dotnet test tests/SetupAudit.EndToEnd --no-build --nologo \
  --filter "FullyQualifiedName~CrashTests.Killed"
