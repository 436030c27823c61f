/* SPDX-License-Identifier: MIT
 * host.pages(kind, list, { title, date }): pages as PDF, or one as PNG, by the private module, which is found from the
 * place of the command itself: beside it where it was built, or in ../libexec/stringline where it was installed. */
#include <dlfcn.h>
#include <lauxlib.h>
#include <math.h>
#include <pthread.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "draw/draw.h"
#include "draw/letters.h"
#include "draw/pdf.h"
#include "draw/png.h"
#include "host/raise.h"
#include "host/sha256.h"
#include "host/state.h"
#include "box/sandbox.h"
#include "paper/paper.h"
#include "table.h"

#define MODULE "stringline-paper.so"
#define FONT "DejaVuSansCondensed.ttf"
static const char *const places[] = { "", "../libexec/stringline/" };
enum { LONG = 4096 };

/* ---- found ------------------------------------------------------------------------------------------------------- */

/* The folder of the command, with its slash. */
static bool own_folder(char folder[LONG]) {
  const ssize_t n = readlink("/proc/self/exe", folder, LONG - 1);
  if (n <= 0 || n >= LONG - 1) return false;
  folder[n] = '\0';
  char *slash = strrchr(folder, '/');
  if (!slash) return false;
  slash[1] = '\0';
  return true;
}

/* The path of a file of ours; false: `path` is the first place where it was looked for. */
static bool own_file(char path[LONG + 64], const char *name) {
  char folder[LONG];
  if (!own_folder(folder)) folder[0] = '\0';
  for (size_t i = sizeof places / sizeof *places; i-- > 0;) {
    snprintf(path, LONG + 64, "%s%s%s", folder, places[i], name);
    if (access(path, R_OK) == 0) return true;
  }
  return false;
}

/* ---- opened ------------------------------------------------------------------------------------------------------ */

/* Its libraries take as long to open as a bare Lua to start, which another core can do while the job is judged. */
struct opening { bool under_way; pthread_t thread; char path[LONG + 64], why[500]; void *module; };
static const char OPENING = 'o';               /* registry: the one of a state, if it was begun */

static void *open_module(void *own) {
  struct opening *o = own;
  o->module = dlopen(o->path, RTLD_NOW | RTLD_LOCAL);
  if (o->module) return NULL;
  const char *why = dlerror();                 /* of this thread alone */
  snprintf(o->why, sizeof o->why, "%s", why ? why : MODULE);
  return NULL;
}

/* That which was begun, and is done now; NULL: none was. */
static struct opening *waited_for(lua_State *L) {
  lua_rawgetp(L, LUA_REGISTRYINDEX, &OPENING);
  struct opening *o = lua_touserdata(L, -1);
  lua_pop(L, 1);
  if (o && o->under_way) pthread_join(o->thread, NULL);
  if (o) o->under_way = false;
  return o;
}

static void leave(lua_State *L) { waited_for(L); }

/* Signals stay with the thread that runs the job. */
static bool begun(struct opening *o) {
  sigset_t all, before;
  sigfillset(&all);
  if (pthread_sigmask(SIG_SETMASK, &all, &before) != 0) return false;
  const bool runs = pthread_create(&o->thread, NULL, open_module, o) == 0;
  pthread_sigmask(SIG_SETMASK, &before, NULL);
  return runs;
}

void sl_draw_open_soon(lua_State *L) {
  struct sl_state *state = sl_state_of(L);
  if (state->leaving) return;                  /* somebody else has something to do then */
  struct opening *o = lua_newuserdatauv(L, sizeof *o, 0);
  *o = (struct opening){ .under_way = false };
  if (own_file(o->path, MODULE) && begun(o)) {
    o->under_way = true;
    state->leaving = leave;
    lua_rawsetp(L, LUA_REGISTRYINDEX, &OPENING);
  } else lua_pop(L, 1);
}

typedef bool write_pages(struct sl_paper_job *);

static write_pages *opened(lua_State *L, char font[LONG + 64]) {
  struct opening now = { .under_way = false }, *o = waited_for(L);
  static const char help[] = "install the program anew, or write SVG or DXF, which need nothing else";
  if (!o && !own_file(now.path, MODULE))
    sl_raise(L, "F043", help, "PDF and PNG are written by a file of the program that is not there: %s", MODULE);
  if (!own_file(font, FONT))
    sl_raise(L, "F043", help, "the font of drawings, a file of the program, is not there: %s", FONT);
  if (!o) open_module(o = &now);
  write_pages *write = NULL;
  const char *why = o->why;
  if (o->module) {
    *(void **)&write = dlsym(o->module, "sl_paper_write");
    if (!write) why = dlerror();
  }
  if (!write)
    sl_raise(L, "F043", help, "PDF and PNG are written by a file of the program that cannot be opened: %s",
             why ? why : MODULE);
  return write;
}

/* ---- pens -------------------------------------------------------------------------------------------------------- */

static void read_pens(struct sl_paper_pen pens[SL_ROWS_OF_drawing_pens]) {
  for (int i = 0; i < SL_ROWS_OF_drawing_pens; i++) {
    const char *text = sl_table_drawing_pens[i].dash;
    pens[i] = (struct sl_paper_pen){ .width = sl_table_drawing_pens[i].width };
    double length;
    while (pens[i].dashes < SL_PAPER_DASHES && (length = sl_next_dash(&text)) > 0)
      pens[i].dash[pens[i].dashes++] = length;
  }
}

/* ---- written ----------------------------------------------------------------------------------------------------- */

static bool put(void *own, const unsigned char *bytes, size_t n) {
  struct sl_written *w = own;
  sl_put_bytes(w, (const char *)bytes, n);
  return !w->starved;
}

static void identify(struct sl_written *w, char digits[33]) {
  char all[SL_SHA256_HEX];
  sl_sha256(w->at, w->n, all);
  memcpy(digits, all, 32);
  digits[32] = '\0';
}

static const char *about(lua_State *L, const char *name) {
  return lua_getfield(L, 3, name) == LUA_TSTRING ? lua_tostring(L, -1) : NULL;
}

int sl_draw_pages(lua_State *L) {
  static const char *const kinds[] = { "pdf", "png", NULL };
  struct sl_paper_pen pens[SL_ROWS_OF_drawing_pens];
  char font[LONG + 64], digits[33];
  const bool png = luaL_checkoption(L, 1, NULL, kinds) == 1;
  luaL_checktype(L, 2, LUA_TTABLE);
  luaL_checktype(L, 3, LUA_TTABLE);
  const size_t n = lua_rawlen(L, 2);
  luaL_argcheck(L, n > 0 && n < 1000 && (!png || n == 1), 2, "pages");
  luaL_checkstack(L, (int)(6 * n) + 20, "pages");
  struct sl_page *pages = lua_newuserdatauv(L, n * sizeof *pages, 0);
  for (size_t i = 0; i < n; i++) {
    lua_rawgeti(L, 2, (lua_Integer)i + 1);
    sl_draw_page(L, -1, &pages[i]);
  }
  write_pages *write = opened(L, font);
  read_pens(pens);
  const char *title = about(L, "title"), *date = about(L, "date");
  struct sl_written *w = sl_draw_written(L);
  struct sl_paper_job job = { .version = SL_PAPER_VERSION, .png = png, .pages = pages, .n = n, .pens = pens,
                              .font = font, .em = sl_letters_em(), .dot = sl_paper(&(struct sl_drawing){ .ratio = 1 },
                              "dot"), .title = title ? title : "", .date = date, .put = put, .own = w };
  if (!write(&job) && !w->starved) return sl_raise(L, "F043", NULL, "a page cannot be written: %s", job.why);
  if (png && !w->starved && !sl_png_size(w, job.dot))
    return sl_raise(L, "F043", NULL, "a PNG came out otherwise than expected");
  if (!png && !w->starved) {
    identify(w, digits);
    if (!sl_pdf_update(w, digits)) return sl_raise(L, "F043", NULL, "a PDF came out otherwise than expected");
  }
  return sl_draw_finished(L, w);
}
