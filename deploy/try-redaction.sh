#!/bin/sh
# Shows that the proxies of this folder write no secret link into a log: the shipped configuration, on high ports, before nothing (each request is answered by 502,
# which is also what writes to an error log). Needs curl and nginx or caddy, no root: NGINX_PROGRAM=/usr/sbin/nginx CADDY_PROGRAM=/usr/bin/caddy deploy/try-redaction.sh
set -eu
here=$(cd "$(dirname "$0")" && pwd)
nginx=${NGINX_PROGRAM:-$(command -v nginx || echo /usr/sbin/nginx)}
caddy=${CADDY_PROGRAM:-$(command -v caddy || echo /usr/bin/caddy)}
plain=${PORT:-18080}
secure=$((plain + 1))
backend=$((plain + 2))
folder=$(mktemp -d)
proxy=
trap '[ -z "$proxy" ] || kill "$proxy" 2>/dev/null || true; rm -rf "$folder"' EXIT
secret=Secret0Token0That0Must0Not0Be0In0Any0Log0AA
mkdir -p "$folder/tls" "$folder/log"

# Waits for the proxy, then asks for each kind of secret link, with the link also as query and referrer.
ask() {
    n=0
    until curl -ksS -o /dev/null --resolve "shop.lan:$secure:127.0.0.1" "https://shop.lan:$secure/" 2>/dev/null; do
        n=$((n + 1))
        [ "$n" -lt 50 ] || { echo "$1 does not answer." >&2; cat "$folder"/log/* >&2; exit 1; }
        sleep 0.2
    done
    for path in "p/$secret" "P/$secret" "p/$secret/changes?after=1" "d/$secret" "u/$secret" "m/$secret" "record/$secret" "?back=/p/$secret"; do
        for base in "http://shop.lan:$plain" "https://shop.lan:$secure"; do
            curl -ksS -o /dev/null --resolve "shop.lan:$plain:127.0.0.1" --resolve "shop.lan:$secure:127.0.0.1" \
                -H "Referer: https://shop.lan/p/$secret" "$base/$path"
        done
    done
}

# Stops the proxy, so that everything is written, then reads every log.
judge() {
    kill "$proxy"
    wait "$proxy" 2>/dev/null || true
    proxy=
    lines=$(cat "$folder"/log/access* | grep -c hidden || true)
    [ "$lines" -gt 0 ] || { echo "$1: the links are not in the access log at all, so nothing was tried." >&2; exit 1; }
    if grep -rn "$secret" "$folder/log"; then
        echo "$1: the secret is in a log." >&2
        exit 1
    fi
    echo "$1: $lines lines with hidden links, no secret in $(ls "$folder/log" | wc -l) logs."
    rm -f "$folder"/log/*
}

tried=0
if [ -x "$nginx" ]; then
    openssl req -x509 -newkey rsa:2048 -nodes -days 2 -subj /CN=shop.lan -keyout "$folder/tls/shop.lan.key" -out "$folder/tls/shop.lan.crt" 2>/dev/null
    sed -e "s#listen 80;#listen 127.0.0.1:$plain;#" -e "s#listen 443 #listen 127.0.0.1:$secure #" -e "s#127.0.0.1:5080#127.0.0.1:$backend#" \
        -e "s#/etc/nginx/tls#$folder/tls#" -e "s#/var/log/nginx/shopfloor.log#$folder/log/access.log#" \
        -e "s#/var/log/nginx/shopfloor-error.log#$folder/log/error.log#" "$here/nginx/shopfloor.conf" >"$folder/shopfloor.conf"
    cat >"$folder/nginx.conf" <<END
daemon off;
pid $folder/nginx.pid;
error_log $folder/log/main-error.log;
events {}
http {
    client_body_temp_path $folder/t1; proxy_temp_path $folder/t2; fastcgi_temp_path $folder/t3; uwsgi_temp_path $folder/t4; scgi_temp_path $folder/t5;
    include $folder/shopfloor.conf;
}
END
    "$nginx" -p "$folder" -e "$folder/log/main-error.log" -c "$folder/nginx.conf" &
    proxy=$!
    ask nginx
    judge nginx
    tried=1
fi
if [ -x "$caddy" ]; then
    { printf '{\n\thttp_port %s\n\thttps_port %s\n\tadmin off\n' "$plain" "$secure"; sed -n '/^{$/,$p' "$here/caddy/Caddyfile" | tail -n +2; } |
        sed -e "s#127.0.0.1:5080#127.0.0.1:$backend#" -e "s#/var/log/caddy/shopfloor.log#$folder/log/access.log#" >"$folder/Caddyfile"
    XDG_DATA_HOME="$folder/data" XDG_CONFIG_HOME="$folder/config" HOME="$folder" "$caddy" run --adapter caddyfile --config "$folder/Caddyfile" 2>"$folder/log/error.log" &
    proxy=$!
    ask caddy
    judge caddy
    tried=1
fi
[ "$tried" = 1 ] || { echo "Neither nginx nor caddy is here." >&2; exit 1; }
