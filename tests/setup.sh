#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what building and testing needs on Debian or Ubuntu; says what is missing where it may not.
set -eu
packages="gcc make clang libclang-rt-14-dev pkg-config re2c lua5.4 liblua5.4-dev libcmocka-dev"
missing=""
for p in $packages; do
  dpkg-query -W -f='${Status}' "$p" 2>/dev/null | grep -q 'install ok installed' || missing="$missing $p"
done
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
# shellcheck disable=SC2086
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $missing >/dev/null || {
  echo "setup: apt-get could not install:$missing" >&2
  exit 1
}
