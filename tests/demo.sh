#!/bin/sh
# SPDX-License-Identifier: MIT
# The first whole job, from its script to its report.
set -eu
cd "$(dirname "$0")/.."
stringline=${1:-build/stringline}
echo "\$ stringline run examples/egg-farm/job.sline     # eight modules on one rack: declared, worked out, judged"
exec "$stringline" run examples/egg-farm/job.sline
