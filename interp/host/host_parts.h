/* SPDX-License-Identifier: MIT
 * The parts of the `host` table, one file each. */
#ifndef SL_HOST_PARTS_H
#define SL_HOST_PARTS_H

#include <lauxlib.h>
#include "scan/scanner.h"

extern const luaL_Reg sl_host_places[];    /* host_place.c: where things stand in the person's text */
extern const luaL_Reg sl_host_values[];    /* host_value.c: quantities, and how they print */
extern const luaL_Reg sl_host_files[];     /* host_file.c: scripts, parts, prices */
extern const luaL_Reg sl_host_texts[];     /* host_text.c: columns and lines */

/* Keeps a scan for places and origins; owns it from then on. */
void sl_scan_keep(int source, struct sl_scan *scan);
/* How values print until a job has said it. */
void sl_host_plain_style(void);
/* Registry key under which the state's struct sl_host lies. */
extern const char sl_host_key;

#endif
