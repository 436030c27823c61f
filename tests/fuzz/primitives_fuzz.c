/* SPDX-License-Identifier: MIT
 * Every primitive with all its fields, from C and from a script.  An input is a call as a text (call_text.h); laws are
 * those of call_laws.h and call_script_laws.h.  Primitives and fields are walked by their tables, so that a new one is
 * tried without a word here. */
#include "../call_draw.h"
#include "../call_script_laws.h"
#include "fuzz.h"
#include "kept.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  static const struct sl_host host = { .folder = "", .format = SL_GNU };
  static lua_State *L;
  static struct call call;
  if (!L && !(L = kept(sl_host_new(&host, NULL)))) abort();
  call_read(&call, NULL, (const char *)data, size);
  if (call.fits) {
    struct call_answer answer = call_laws(&call);
    call_script_laws(L, &call, &answer);
    call_forget(&answer);
  } else call_script_laws(L, &call, NULL);
  call_free(&call);
  return 0;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t max, unsigned seed) {
  static char text[1 << 16];
  struct lot lot = { seed };
  struct call_out out = { text, 0, max < sizeof text ? max : sizeof text };
  const size_t how = lot_below(&lot, 20);
  if (how == 0) return LLVMFuzzerMutate(data, size, max);
  if (how == 1) call_draw(&lot, NULL, &out);
  else {
    call_changed(&lot, (const char *)data, size, &out);
    for (size_t more = lot_below(&lot, 3); more > 0; more--) {
      memcpy(data, text, out.len);
      size = out.len;
      out.len = 0;
      call_changed(&lot, (const char *)data, size, &out);
    }
  }
  memcpy(data, text, out.len);
  return out.len;
}
