#!/usr/bin/env bash
# One backup of a SQLite shop while the program runs: a checked copy of the database with the files it refers to.
#   backup.sh DATA-FOLDER BACKUP-FOLDER
# Files lie under their SHA-256 and never change: one that the last backup has already is linked to it, not copied again.
set -euo pipefail
umask 077 # names, addresses and signatures of customers are in there
if [ $# -ne 2 ]; then
  echo "Usage: $0 DATA-FOLDER BACKUP-FOLDER" >&2
  exit 2
fi
command -v sqlite3 >/dev/null || { echo "sqlite3 is needed. Install it from your system's packages." >&2; exit 2; }
[ -e "$1/shopfloor.db" ] || { echo "There is no $1/shopfloor.db." >&2; exit 2; }
mkdir -p "$2"
data=$(cd "$1" && pwd) all=$(cd "$2" && pwd)
exec 9>"$all/.lock"
flock -n 9 || { echo "Another backup to $all is running." >&2; exit 1; }
to=$all/shopfloor-$(date +%Y-%m-%d)
part=$to.part
last=$(find "$all" -maxdepth 1 -type d -name 'shopfloor-20??-??-??' | sort | tail -n 1)
rm -rf "$part" "$to.old"
mkdir "$part"

take_files() {
  [ -d "$data/files" ] || return 0
  mkdir -p "$part/files"
  # Files of the program's unfinished writes end in .part.
  (cd "$data/files" && find . -type f ! -name '*.part' -printf '%P\0') | while IFS= read -r -d '' file; do
    [ ! -e "$part/files/$file" ] || continue
    mkdir -p "$part/files/$(dirname "$file")"
    { [ -n "$last" ] && ln "$last/files/$file" "$part/files/$file" 2>/dev/null; } ||
      cp -p "$data/files/$file" "$part/files/$file" ||
      [ ! -e "$data/files/$file" ] # deleted in between: no fault
  done
}

# Before the database, so that nothing it refers to can be deleted meanwhile; after it, for what came in between.
take_files
# Never copy the file of a running database by itself: the newest changes are in its write-ahead log.
(cd "$part" && sqlite3 "$data/shopfloor.db" ".timeout 20000" "VACUUM INTO 'shopfloor.db'")
[ "$(sqlite3 "$part/shopfloor.db" "PRAGMA integrity_check")" = ok ] || { echo "The copy of the database is damaged." >&2; exit 1; }
[ -z "$(sqlite3 "$part/shopfloor.db" "PRAGMA foreign_key_check")" ] || { echo "The copy of the database has rows that refer to nothing." >&2; exit 1; }
take_files
if [ -n "$(find "$part/files" -type f -print -quit 2>/dev/null)" ] &&
  ! (cd "$part/files" && find . -type f -printf '%f  %p\n' | sha256sum --check --quiet --strict); then
  echo "Files of this backup do not match their names. It is kept as $part; look at both disks." >&2
  exit 1
fi
[ ! -e "$to" ] || mv "$to" "$to.old"
mv "$part" "$to"
rm -rf "$to.old"
find "$all" -maxdepth 1 -name 'shopfloor-20*' -mtime +60 -exec rm -rf {} +
