/* SPDX-License-Identifier: MIT
 * Any bytes as a list of parts or prices.  The reader's laws are those of csv_laws.h.  Of some inputs a job is declared
 * that names the file: what is wrong is told with a place in it, and where nothing is, each cell came as it says
 * (csv.lua). */
#include "state.h"
#include "fuzz.h"

enum { FILES = 100, DECLARED = 2 };         /* of one state: it takes 255; one input of so many is declared */

static int files;                            /* of the state at hand */

static const char job[] = "job { name = \"t\", client = \"c\", stage = \"quote\", on = \"2026-11-02\" }\n";

/* A line begins with item. */
static bool is_of_prices(const char *text, size_t len) {
  for (size_t i = 0; i + 4 < len; i++)
    if (memcmp(text + i, "item", 4) == 0 && (i == 0 || text[i - 1] == '\n')) return true;
  return false;
}

/* A state knows a file by what it is on its disk: none goes before the state, whose place another would take. */
static void forget_files(void) {
  char name[32];
  for (int i = 0; i < files; i++) {
    snprintf(name, sizeof name, "list%d.csv", i);
    state_remove(name);
    snprintf(name, sizeof name, "job%d.sline", i);
    state_remove(name);
  }
}

/* At the end of the process that made the folder. */
static void tidy(void) {
  if (getpid() != state_owner) return;
  forget_files();
  rmdir(state_folder);
}

static void in_a_job(const uint8_t *data, size_t size) {
  static lua_State *L;
  char list[32], script[32], text[400], path[128];
  if (state_folder_open()) atexit(tidy);
  if (L && files == FILES) {
    kept_no_more(L);
    sl_host_close(L);
    forget_files();
    L = NULL;
  }
  state_placed = true;
  if (!L) {
    L = state_open("tests/fuzz/csv.lua");
    files = 0;
  }
  const char *const word = is_of_prices((const char *)data, size) ? "prices" : "parts";
  snprintf(list, sizeof list, "list%d.csv", files);
  snprintf(script, sizeof script, "job%d.sline", files++);
  snprintf(text, sizeof text, "%s%s \"%s\"\n", job, word, list);
  state_write(list, data, size);
  state_write(script, text, strlen(text));
  lua_settop(L, 1);
  lua_pushvalue(L, 1);
  state_path(path, sizeof path, script);
  lua_pushstring(L, path);
  state_path(path, sizeof path, list);
  lua_pushstring(L, path);
  lua_pushstring(L, word);
  state_call(L, 3, 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  csv_laws((const char *)data, size);
  size_t sum = size;
  for (size_t i = 0; i < size; i++) sum = sum * 31 + data[i];
  if (sum % DECLARED == 0) in_a_job(data, size);
  return 0;
}
