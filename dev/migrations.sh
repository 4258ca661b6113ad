#!/usr/bin/env bash
# Makes migrations for both databases from the model.
#   dev/migrations.sh              before the first release: makes the one initial migration anew
#   dev/migrations.sh add NAME     afterwards: adds a migration to both
set -euo pipefail
cd "$(dirname "$0")/.."
dotnet tool restore >/dev/null
name=${2:-Initial}
if [ "${1:-reset}" = reset ]; then
  rm -rf src/ShopFloor.Data.Sqlite/Migrations src/ShopFloor.Data.PostgreSql/Migrations
fi
dotnet build src/ShopFloor.Web -v q -clp:ErrorsOnly
dotnet ef migrations add "$name" -p src/ShopFloor.Data.Sqlite -s src/ShopFloor.Web --no-build -- sqlite
dotnet ef migrations add "$name" -p src/ShopFloor.Data.PostgreSql -s src/ShopFloor.Web --no-build -- postgres
