#!/usr/bin/env bash
# Makes a small certificate authority for the shop's own network (once) and a certificate for a host name.
#   ./make-certificate.sh FOLDER HOST [IP]
# FOLDER gets ca.crt (give it to every tablet, phone and PC), ca.key (keep it off the server), HOST.crt and HOST.key (for the proxy).
set -euo pipefail
if [ $# -lt 2 ]; then
  echo "Usage: $0 FOLDER HOST [IP]   e.g. $0 tls shop.lan 192.0.2.10" >&2
  exit 2
fi
folder=$1 host=$2 ip=${3:-}
case $host in *[!A-Za-z0-9.-]*) echo "A host name has letters, digits, dots and hyphens." >&2; exit 2 ;; esac
umask 077
mkdir -p "$folder"
cd "$folder"

if [ ! -e ca.key ]; then
  openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:P-256 -noenc -days 3650 -keyout ca.key -out ca.crt \
    -subj "/CN=Shop network CA" \
    -addext "basicConstraints=critical,CA:TRUE,pathlen:0" -addext "keyUsage=critical,keyCertSign,cRLSign" 2>/dev/null
fi

names="DNS:$host"
[ -z "$ip" ] || names="$names,IP:$ip"
openssl req -new -newkey ec -pkeyopt ec_paramgen_curve:P-256 -noenc -keyout "$host.key" -out "$host.csr" -subj "/CN=$host" 2>/dev/null
# 397 days: browsers refuse longer ones from authorities they know, and a yearly change is a good habit for one's own too.
openssl x509 -req -in "$host.csr" -CA ca.crt -CAkey ca.key -CAcreateserial -days 397 -out "$host.crt" 2>/dev/null -extfile <(
  printf 'subjectAltName=%s\nbasicConstraints=critical,CA:FALSE\nkeyUsage=critical,digitalSignature\nextendedKeyUsage=serverAuth\n' "$names"
)
rm -f "$host.csr"
chmod 644 ca.crt "$host.crt"
echo "Made $folder/$host.crt, $folder/$host.key; devices must trust $folder/ca.crt."
