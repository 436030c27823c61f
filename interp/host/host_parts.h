/* SPDX-License-Identifier: MIT
 * The parts of the `host` table, one file each. */
#ifndef SL_HOST_PARTS_H
#define SL_HOST_PARTS_H

#include <lauxlib.h>

extern const luaL_Reg sl_host_places[];    /* host_place.c: where things stand in the person's text */
extern const luaL_Reg sl_host_values[];    /* host_value.c: quantities, and how they print */
extern const luaL_Reg sl_host_texts[];     /* host_text.c: made safe, columns and lines, print */
extern const luaL_Reg sl_host_json[];      /* host_json.c: JSON */
extern const luaL_Reg sl_host_files[];     /* host_file.c: files by name, parts, prices */
extern const luaL_Reg sl_host_scripts[];   /* host_script.c: scripts, and the literals in them */
extern const luaL_Reg sl_host_asides[];    /* host_aside.c: a run beside the run */

extern const luaL_Reg sl_host_tables[];    /* host_tables.c: published tables, editions, citations */
extern const luaL_Reg sl_host_compare[];   /* compare.c: a value and its limits */
extern const luaL_Reg sl_host_outcome[];   /* outcome.c: a rule and its subject */

#endif
