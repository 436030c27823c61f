/* SPDX-License-Identifier: MIT
 * A fence around files: the kernel opens for this process what stands below some folders, and only to read. */
#ifndef SL_FENCE_H
#define SL_FENCE_H

#include <stdbool.h>

/* `files` and `folders` as in struct sl_child_limits.  What is not there is left out.  Behind the fence stand also
 * /proc and with it the memory of every other process.  false: errno. */
bool sl_fence(const char *const *files, const char *folders);
#endif
