#!/bin/sh
# SPDX-License-Identifier: MIT
# Runs each fuzz target for a minute (FUZZ_SECONDS), starting from its corpus; a find is left in build/fuzz.
set -eu
cd "$(dirname "$0")/../.."
build=${BUILD:-build}/fuzz
for source in tests/fuzz/*_fuzz.c; do
  name=$(basename "$source" .c)
  target=$build/tests/fuzz/${name}_target
  make -s -j2 BUILD="$build" CC="$(command -v clang)" CFLAGS="-O1 -g" \
    SAN="-fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all" "$target"
  mkdir -p "$build/found-$name"
  echo "$name: ${FUZZ_SECONDS:-60} seconds"
  "$target" -max_total_time="${FUZZ_SECONDS:-60}" -artifact_prefix="$build/" \
    "$build/found-$name" "tests/fuzz/corpus/${name%_fuzz}"
done
