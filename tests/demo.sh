#!/bin/sh
# SPDX-License-Identifier: MIT
# The verdict on the first whole job, and what to type next.
set -eu
cd "$(dirname "$0")/.."
stringline=${1:-build/stringline}
echo
echo "\$ $stringline check examples/egg-farm/job.sline"
"$stringline" check examples/egg-farm/job.sline
echo
echo "Next, type: $stringline run examples/egg-farm/job.sline"
