#!/usr/bin/env bash
# Other people's code in this program.
#   dev/parts.sh audit        fails where a package, or one that it needs, has a weakness that the package source knows of
#   dev/parts.sh list [FILE]  writes the list of parts of the published program (CycloneDX, JSON); default: bom.json
set -euo pipefail
cd "$(dirname "$0")/.."
case ${1:-} in
  audit)
    found=$(dotnet list ShopFloor.sln package --vulnerable --include-transitive)
    if grep -q "has the following vulnerable packages" <<<"$found"; then
      grep -vE "has no vulnerable packages|^$" <<<"$found"
      exit 1
    fi
    echo "No known weaknesses in packages, as far as the package source tells of them."
    ;;
  list)
    file=$(realpath -m "${2:-bom.json}")
    dotnet tool restore >/dev/null
    dotnet CycloneDX src/ShopFloor.Web/ShopFloor.Web.csproj -o "$(dirname "$file")" -fn "$(basename "$file")" -F Json --disable-package-restore >/dev/null
    echo "Written: $file"
    ;;
  *)
    sed -n '2,4s/^# \{0,1\}//p' "$0" >&2
    exit 2
    ;;
esac
