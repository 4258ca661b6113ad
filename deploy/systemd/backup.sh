#!/usr/bin/env bash
# One backup of a SQLite shop while the program runs: database first, then the files it refers to (files are only ever added under new names).
#   backup.sh DATA-FOLDER BACKUP-FOLDER
set -euo pipefail
if [ $# -ne 2 ]; then
  echo "Usage: $0 DATA-FOLDER BACKUP-FOLDER" >&2
  exit 2
fi
data=$1 to=$2/shopfloor-$(date +%Y-%m-%d)
[ -e "$data/shopfloor.db" ] || { echo "There is no $data/shopfloor.db." >&2; exit 2; }
part=$to.part
rm -rf "$part"
mkdir -p "$part"
# Never copy the file of a running database by itself: the newest changes are in its write-ahead log.
sqlite3 "$data/shopfloor.db" ".timeout 20000" "VACUUM INTO '$part/shopfloor.db'"
[ "$(sqlite3 "$part/shopfloor.db" "PRAGMA integrity_check")" = ok ] || { echo "The copy is damaged." >&2; exit 1; }
[ ! -d "$data/files" ] || cp -a "$data/files" "$part/files"
rm -rf "$to"
mv "$part" "$to"
find "$2" -maxdepth 1 -name 'shopfloor-20*' -mtime +60 -exec rm -rf {} +
