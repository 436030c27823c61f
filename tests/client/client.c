/* SPDX-License-Identifier: MIT
 * A program of somebody else's: the installed headers and library, nothing of Lua, nothing of the sources.
 * The cases are published or worked by hand, as named. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <stringline/cost.h>
#include <stringline/footing.h>
#include <stringline/raceway.h>
#include <stringline/strings.h>
#include <stringline/wire.h>

static int failed;

static void near(const char *what, double got, double want, double most_off) {
  if (fabs(got - want) <= most_off) return;
  printf("%s: %.6g, wanted %.6g\n", what, got, want);
  failed = 1;
}

static void yes(const char *what, int condition) {
  if (condition) return;
  printf("%s\n", what);
  failed = 1;
}

/* Rows go in where they lie.  EC&M Code Calculations, example 1: three 500 kcmil, one 250 kcmil and one 3 AWG THHN in
 * PVC 40 of trade size 3 fill 2.6162 in2. */
static void fills(void) {
  const struct sl_group wires[] = {
    { .size = "500", .count = 3, .insulation = "THHN" }, { .size = "250", .count = 1, .insulation = "THHN" },
    { .size = "3", .count = 1, .insulation = "THHN" },
  };
  const struct sl_raceway_fill_in in = { .kind = SL_PVC_40, .trade_size = "3", .conductors = wires, .groups = 3,
    .edition = "NEC 2023" };
  struct sl_raceway_fill_out out;
  struct sl_row few[4], all[60];
  struct sl_sheet sheet = SL_SHEET(few);
  yes("the raceway has an answer", sl_raceway_fill(&in, &out, &sheet) == SL_OK && out.fits);
  near("area of the conductors", out.conductors_area / (0.0254 * 0.0254), 2.6162, 1e-9);
  yes("four rows are not enough", sheet.n == 4 && sheet.lost > 0);
  const size_t wanted = sheet.n + sheet.lost;
  struct sl_sheet whole = SL_SHEET(all);
  sl_raceway_fill(&in, &out, &whole);
  yes("and the sheet said how many are", whole.n == wanted && whole.lost == 0);
  size_t lines = 0;
  for (size_t i = 0; i < whole.n; i++) lines += whole.row[i].kind == SL_ROW_LINE;
  yes("a line for each group", lines == 3);
}

/* Lists come out in room of the caller.  By hand: five pieces of 3 m come cheapest from a 6 m and a 9 m stick. */
static void cuts(void) {
  const double pieces[] = { 3, 3, 3, 3, 3 }, lengths[] = { 6, 9 }, prices[] = { 10, 14 };
  const struct sl_cut_stock_in in = { pieces, 5, lengths, 2, prices, 2, 0 };
  struct sl_space space = { NULL, sl_cut_stock_need(&in) };
  struct sl_cut_stock_out out;
  struct sl_sheet fault = { .cap = 0 };
  yes("no room, no answer", sl_cut_stock(&in, &out, (struct sl_space){ NULL, 0 }, &fault) == SL_BAD_INPUT);
  yes("the fault says so", strcmp(fault.fault.member, "space") == 0);
  space.at = malloc(space.size);
  yes("there is a plan", space.at && sl_cut_stock(&in, &out, space, NULL) == SL_OK && out.proven);
  near("its price", out.total, 24, 1e-12);
  yes("a piece of 3 m on each", out.nstick == 5 && out.sticks == 2);
  free(space.at);
}

int main(void) {
  struct sl_row rows[40];
  struct sl_sheet sheet = SL_SHEET(rows);

  /* NEC 2023 690.7(A)(1), by hand: 39.2 V x (1 - 0.0025 x (-16 - 25)) x 4 = 172.872 V. */
  const struct sl_cold_voltage_in cold = { .voc = 39.2, .coefficient = -0.0025, .series = 4, .coldest = 257.15,
        .limit = 250, .edition = "NEC 2023" };
  struct sl_cold_voltage_out volts;
  yes("cold voltage has an answer", sl_cold_voltage(&cold, &volts, &sheet) == SL_OK);
  near("cold string voltage", volts.voltage, 172.872, 1e-3);
  yes("its sheet is whole", sheet.n > 0 && sheet.lost == 0);
  yes("its sheet cites the code", strstr(sheet.row[sheet.n - 1].cite, "690.7") != NULL);

  /* NEC Chapter 9 Table 8: 6 AWG stranded copper is 1.61 ohm per km; 2 x 0.0316992 km x 1.61 x 26.22 A = 2.676 V. */
  const struct sl_voltage_drop_in drop = {
    .length = 104 * 0.3048, .current = 26.22, .voltage = 131.2, .material = SL_COPPER, .size = "6",
          .stranding = SL_STRANDED,
    .conductor_temperature = 273.15 + 75, .edition = "NEC 2023",
  };
  struct sl_voltage_drop_out lost;
  yes("voltage drop has an answer", sl_voltage_drop(&drop, &lost, NULL) == SL_OK);
  near("voltage drop", lost.drop, 2.676, 5e-3);
  near("ratio", lost.ratio, 0.0204, 5e-5);

  /* A hole of 12 in x 48 in around a 5-1/2 in post: (pi/4 x 12^2 - 5.5^2) x 48 / 1728 = 2.301 ft3, five 80 lb bags. */
  const struct sl_pier_in hole = { 12 * 0.0254, 48 * 0.0254, 0, 5.5 * 0.0254, 0.10, false, NAN, NAN };
  struct sl_pier_out pier;
  yes("the hole has an answer", sl_pier(&hole, &pier, NULL) == SL_OK);
  near("concrete", pier.concrete / 0.028316846592, 2.301, 1e-3);
  const struct sl_bag_yield_in bag = { 80 * 0.45359237 };
  struct sl_bag_yield_out filled;
  yes("the bag has an answer", sl_bag_yield(&bag, &filled, NULL) == SL_OK);
  const struct sl_bags_in open = { pier.ordered, filled.yield };
  struct sl_bags_out bags;
  yes("so have the bags", sl_bags(&open, &bags, NULL) == SL_OK);
  yes("five bags", bags.bags == 5);

  /* Out of range, the fault says whose range it is. */
  const struct sl_conductor_in odd = { .material = SL_COPPER, .size = "5", .stranding = SL_STRANDED,
                                       .edition = "NEC 2023" };
  struct sl_conductor_out wire;
  yes("no such conductor", sl_conductor(&odd, &wire, &sheet) == SL_NO_ROW);
  yes("whose table", strstr(sheet.fault.cite, "Table 8") != NULL && strcmp(sheet.fault.member, "size") == 0);
  yes("names of dimensions", strcmp(sl_dim_name(SL_SOIL), "pressure per depth") == 0);
  fills();
  cuts();
  return failed;
}
