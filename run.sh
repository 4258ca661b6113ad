#!/usr/bin/env bash
# Starts ShopFloor: restores, builds, brings the database up to date, serves.
#   ./run.sh                 SQLite in ./data, http://localhost:5080
#   ./run.sh --demo          the same, with the invented demo shop in an empty database
#   ./run.sh admin ...       the command line; ./run.sh admin alone lists the commands
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
export SHOPFLOOR_DATA=${SHOPFLOOR_DATA:-$here/data}
export ASPNETCORE_ENVIRONMENT=${ASPNETCORE_ENVIRONMENT:-Production}
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1

if ! command -v dotnet >/dev/null 2>&1; then
  echo "The .NET SDK 10 is needed and was not found. Install it from your system's packages (for example dotnet-sdk-10.0) and start again." >&2
  exit 2
fi
major=$(cd "$here" && dotnet --version 2>/dev/null | cut -d. -f1 || true)
if [ "${major:-0}" -lt 10 ] 2>/dev/null || [ -z "${major:-}" ]; then
  echo "The .NET SDK 10 is needed; 'dotnet --version' says '$(dotnet --version 2>/dev/null || echo none)'. Install .NET SDK 10 and start again." >&2
  exit 2
fi

out="$here/src/ShopFloor.Web/bin/Release/net10.0"
# Standard output belongs to the program's results. Two calls at once build one after the other.
exec 9>"$here/.build.lock"
flock 9 2>/dev/null || true
dotnet build "$here/src/ShopFloor.Web" -c Release -v q -clp:ErrorsOnly --nologo >&2
flock -u 9 2>/dev/null || true
exec 9>&-
cd "$here"
# Settings (above all: no request lines in the log, they carry secret links) lie beside the built program.
export ASPNETCORE_CONTENTROOT=${ASPNETCORE_CONTENTROOT:-$out}
exec dotnet "$out/ShopFloor.Web.dll" "$@"
