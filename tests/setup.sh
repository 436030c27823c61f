#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what building needs on Debian or Ubuntu, and with `check` what testing needs besides; says what is missing
# where it may not.
set -eu
installed() { dpkg-query -W -f='${Status}' "$1" 2>/dev/null | grep -q 'install ok installed'; }
packages="gcc libc6-dev make pkg-config re2c liblua5.4-dev libsqlite3-dev"
[ "${1:-}" != check ] || packages="$packages clang lua5.4 libcmocka-dev patch parallel"
missing=""
for p in $packages; do installed "$p" || missing="$missing $p"; done
# The sanitizers of clang: a package of no version where the release has one, else that of Debian 12's clang.
[ "${1:-}" != check ] || installed libclang-rt-dev || installed libclang-rt-14-dev || missing="$missing libclang-rt-dev"
[ -z "$missing" ] && exit 0
if ! command -v apt-get >/dev/null 2>&1; then
  echo "setup: please install:$missing" >&2
  exit 1
fi
as_root=""
if [ "$(id -u)" != 0 ]; then
  if command -v sudo >/dev/null 2>&1; then as_root="sudo"; else
    echo "setup: not root and no sudo; please install:$missing" >&2
    exit 1
  fi
fi
echo "setup: installing$missing"
$as_root apt-get update -qq
if ! apt-cache show libclang-rt-dev >/dev/null 2>&1; then
  missing=$(echo "$missing" | sed 's/libclang-rt-dev/libclang-rt-14-dev/')
fi
# shellcheck disable=SC2086
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $missing >/dev/null || {
  echo "setup: apt-get could not install:$missing" >&2
  exit 1
}
