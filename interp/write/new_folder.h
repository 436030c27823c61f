/* SPDX-License-Identifier: MIT
 * A new folder of texts that is whole or not there.  No Lua. */
#ifndef SL_NEW_FOLDER_H
#define SL_NEW_FOLDER_H

#include <stdbool.h>
#include <stddef.h>

/* path: within the folder, as in parts/clamps.csv. */
struct sl_new_file { const char *path, *text; size_t len; };

/* Writes the files into a folder beside the new one and renames that: nothing that is there is ever written over.  A
 * folder without anything in it may stand in its place.  False: `why` says what is in the way, and nothing was made. */
bool sl_new_folder(const char *path, const struct sl_new_file *files, size_t n, char *why, size_t size);
#endif
