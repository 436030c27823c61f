/* SPDX-License-Identifier: MIT
 * A file below a folder: whatever symbolic links there say, none leads out of it.  No Lua.
 *
 * The kernel follows no link here.  Each folder on the way is opened and held, a link is read and its parts are walked
 * as if they had been written, and ".." goes back to the folder that was come from, never to what the disk has above:
 * so what is opened was reached from the folder alone, whatever is renamed or swapped meanwhile.  This needs openat,
 * readlinkat and close only, which a confined process may call (openat2, which promises the same, may be neither there
 * nor permitted). */
#ifndef SL_BENEATH_H
#define SL_BENEATH_H

enum { SL_LINK_SHOWN = 400 };

/* The last link that was met, as it is named from the folder, and what it says; "" where none was; both may be cut. */
struct sl_link { char path[SL_LINK_SHOWN], says[SL_LINK_SHOWN]; };

/* Opens `name`, seen from `folder` ("" is the current one), to read.  -1: errno, which is EXDEV where it leads out:
 * then `link` is the one that does.  An absolute link leads out, wherever it ends. */
int sl_beneath_open(const char *folder, const char *name, struct sl_link *link);

#endif
