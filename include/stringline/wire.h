/* SPDX-License-Identifier: MIT
 * Conductors: ampacity, overcurrent device, equipment grounding conductor, voltage drop.
 * Sizes and types are texts as the NEC tables have them: "6", "4/0", "250" (from 250 up kcmil); "THWN-2", "PV wire". */
#ifndef STRINGLINE_WIRE_H
#define STRINGLINE_WIRE_H

#include <stdbool.h>
#include "stringline/sheet.h"

/* Choices, each with its names in the same order, NULL-terminated. */
enum sl_material { SL_COPPER, SL_ALUMINUM };            /* "copper", "aluminum" */
enum sl_stranding { SL_STRANDED, SL_SOLID };            /* "stranded", "solid" */
enum sl_terminal { SL_60_C, SL_75_C, SL_90_C };         /* "60 C", "75 C", "90 C" */
enum sl_device { SL_BREAKER, SL_FUSE };                 /* "breaker", "fuse" */
extern const char *const sl_materials[], *const sl_strandings[], *const sl_terminals[], *const sl_devices[];

/* What an insulation type may be used for: NEC Table 310.4(1). */
struct sl_insulation_in { char type[16]; };
struct sl_insulation_out {
  bool wet;            /* fit for wet places, such as any raceway underground */
  double rating;       /* K: highest conductor temperature in wet places, or where it is not fit for them in dry ones */
  double dry_rating;   /* K: in dry places */
  double voltage;      /* V: least that a wire of this type is marked for */
};
enum sl_status sl_insulation(const struct sl_insulation_in *in, struct sl_insulation_out *out, struct sl_sheet *sh);

/* Ampacity in a raceway, a cable or the earth, to 2000 V: NEC Table 310.16 with 310.15 and 110.14(C). */
struct sl_ampacity_in {
  int material;          /* enum sl_material */
  char size[8];
  char insulation[16];
  bool dry;              /* the whole run lies in dry places; false takes the wet rating */
  int terminal;          /* enum sl_terminal: what the terminals at both ends are marked for */
  double ambient;        /* K, > 0, hottest around the raceway; a fraction of a degree takes the hotter band */
  int conductors;        /* current-carrying ones in the raceway, >= 1; the grounding conductor is not one */
  double maximum;        /* A, >= 0: 690.8(A) */
  double required;       /* A, >= maximum: 690.8(B)(1) */
};
struct sl_ampacity_out {
  double terminal_ampacity;              /* A: terminals' column, or the insulation's where that is lower; no factors */
  double base;                           /* A: insulation's column */
  double ambient_factor, count_factor;
  double corrected;                      /* A: base with both factors */
  double usable;                         /* A: least of corrected and terminal_ampacity */
  bool holds_before;                     /* required <= terminal_ampacity */
  bool holds_after;                      /* maximum <= usable */
};
enum sl_status sl_ampacity(const struct sl_ampacity_in *in, struct sl_ampacity_out *out, struct sl_sheet *sh);

/* A conductor as NEC Chapter 9 Table 8 has it; uncoated copper. */
struct sl_conductor_in { int material; char size[8]; int stranding; };
struct sl_conductor_out {
  double resistance;   /* ohm/m, dc, at 75 C */
  double area;         /* m2 of metal */
  double diameter;     /* m, bare, overall */
};
enum sl_status sl_conductor(const struct sl_conductor_in *in, struct sl_conductor_out *out, struct sl_sheet *sh);

/* Direct-current drop over both wires of a run. */
struct sl_voltage_drop_in {
  double length;                  /* m, one way, > 0 */
  double current;                 /* A, >= 0 */
  double voltage;                 /* V, > 0: what the drop is a share of */
  int material; char size[8]; int stranding;
  double conductor_temperature;   /* K, > 0, at most 90 C; NAN: the table's own, 75 C */
};
struct sl_voltage_drop_out { double drop, ratio, loss; };   /* V, of voltage, W */
enum sl_status sl_voltage_drop(const struct sl_voltage_drop_in *in, struct sl_voltage_drop_out *out,
                               struct sl_sheet *sh);

/* Least and largest overcurrent device for a circuit: NEC 240.4, 240.6(A). */
struct sl_overcurrent_in {
  double required;         /* A, > 0, to 800 */
  double ampacity;         /* A, > 0, to 800: usable ampacity of the conductor */
  int material; char size[8];
  int device;              /* enum sl_device: some ratings are of fuses only */
  int edition;             /* enum sl_edition, strings.h */
};
struct sl_overcurrent_out {
  double least;     /* A: standard rating that carries `required` */
  double allowed;   /* A: largest that protects the conductor: next standard rating up, capped by 240.4(D) */
};
enum sl_status sl_overcurrent(const struct sl_overcurrent_in *in, struct sl_overcurrent_out *out, struct sl_sheet *sh);

/* Smallest wire-type equipment grounding conductor: NEC Table 250.122.  It never need be larger than the circuit's
 * own conductors (250.122(A)), which are not known here.  PV circuits without a device: give the rating that 690.9(B)
 * would want (690.45). */
struct sl_grounding_conductor_in { double device; int material; char edition[SL_EDITION_NAME]; };   /* A, > 0, to 800 */
struct sl_grounding_conductor_out { char size[8]; double row; };     /* row: the rating of the table's row, A */
enum sl_status sl_grounding_conductor(const struct sl_grounding_conductor_in *in,
                                      struct sl_grounding_conductor_out *out, struct sl_sheet *sh);

/* The same when the circuit's conductors are larger than they must be: NEC 250.122(B).  Not for the voltage drop of PV
 * system circuits: there 690.45 asks for no increase. */
struct sl_grounding_enlarged_in {
  double device; int material;
  char edition[SL_EDITION_NAME];
  char least_size[8];   /* what the circuit needed */
  char size[8];         /* what is installed */
};
struct sl_grounding_enlarged_out {
  double ratio;   /* installed metal over what the circuit needed */
  double area;    /* m2 of metal wanted, before the next size up and the cap at the circuit's own conductors */
  char size[8];
};
enum sl_status sl_grounding_enlarged(const struct sl_grounding_enlarged_in *in, struct sl_grounding_enlarged_out *out,
                                     struct sl_sheet *sh);

#endif
