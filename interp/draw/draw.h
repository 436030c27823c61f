/* SPDX-License-Identifier: MIT
 * Drawings for the host's Lua.  Only the command opens them. */
#ifndef SL_DRAW_H
#define SL_DRAW_H

#include <lua.h>
#include "draw/written.h"

/* Adds host.drawing, host.letters, host.svg, host.dxf, and host.pages for PDF and PNG. */
void sl_draw_open(lua_State *L);
/* A PDF or a PNG will be written: the module is opened meanwhile, on a thread of its own, and waited for where it is
 * first wanted, which tells what went wrong, at the latest when the state goes.  Not in a process that is confined. */
void sl_draw_open_soon(lua_State *L);
/* The drawing at idx, or an error. */
struct sl_drawing *sl_draw_at(lua_State *L, int idx);
/* Fills a page from the table at idx, whose strings stay on the stack. */
void sl_draw_page(lua_State *L, int idx, struct sl_page *page);
struct sl_grow sl_draw_grow(lua_State *L);
/* Pushes a text that grows and goes with the stack; and, of such, pushes what was written and gives 1. */
struct sl_written *sl_draw_written(lua_State *L);
int sl_draw_finished(lua_State *L, struct sl_written *w);
/* host.pages(kind, list, about): see module.c. */
int sl_draw_pages(lua_State *L);
#endif
