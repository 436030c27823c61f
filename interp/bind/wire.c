/* SPDX-License-Identifier: MIT
 * Conductors, devices and raceways, told to the script. */
#include "bind.h"
#include "stringline/raceway.h"
#include "stringline/strings.h"
#include "stringline/wire.h"

#define SIZE "size as the tables have it: \"6\", \"4/0\", \"250\""

#define S struct sl_insulation_in
static const struct sl_field insulation_in[] = {
  SL_TEXT(S, type, "insulation type: \"THWN-2\", \"XHHW-2\", \"USE-2\", \"PV wire\", \"THHN\""),
};
#undef S
#define S struct sl_insulation_out
static const struct sl_field insulation_out[] = {
  SL_FLAG(S, wet, "true if fit for wet places, such as any raceway underground"),
  SL_REAL(S, rating, SL_TEMPERATURE, "highest conductor temperature in wet places, or in dry ones for want of them"),
  SL_REAL(S, dry_rating, SL_TEMPERATURE, "highest conductor temperature in dry places"),
  SL_REAL(S, voltage, SL_VOLTAGE, "least that a wire of this type is marked for"),
};
#undef S

#define S struct sl_ampacity_in
static const struct sl_field ampacity_in[] = {
  SL_CHOICE(S, material, sl_materials, "of the conductor"),
  SL_TEXT(S, size, SIZE),
  SL_TEXT(S, insulation, "insulation type"),
  SL_FLAG_OPT(S, dry, "true if the whole run lies in dry places"),
  SL_CHOICE(S, terminal, sl_terminals, "what the terminals at both ends are marked for"),
  SL_REAL(S, ambient, SL_TEMPERATURE, "hottest around the raceway"),
  SL_COUNT(S, conductors, "current-carrying conductors in the raceway"),
  SL_REAL(S, maximum, SL_CURRENT, "maximum circuit current"),
  SL_REAL(S, required, SL_CURRENT, "what terminals and device must be rated for"),
};
#undef S
#define S struct sl_ampacity_out
static const struct sl_field ampacity_out[] = {
  SL_REAL(S, terminal_ampacity, SL_CURRENT, "by the terminals' column, without factors"),
  SL_REAL(S, base, SL_CURRENT, "by the insulation's column"),
  SL_REAL(S, ambient_factor, SL_NUMBER, "for the heat around"),
  SL_REAL(S, count_factor, SL_NUMBER, "for the conductors beside it"),
  SL_REAL(S, corrected, SL_CURRENT, "base with both factors"),
  SL_REAL(S, usable, SL_CURRENT, "the least of corrected and terminal"),
  SL_FLAG(S, holds_before, "true if required is within the terminal ampacity"),
  SL_FLAG(S, holds_after, "true if maximum is within the usable ampacity"),
};
#undef S

#define S struct sl_conductor_in
static const struct sl_field conductor_in[] = {
  SL_CHOICE(S, material, sl_materials, "of the conductor"),
  SL_TEXT(S, size, SIZE),
  SL_CHOICE(S, stranding, sl_strandings, "8 AWG and larger is stranded in raceways"),
};
#undef S
#define S struct sl_conductor_out
static const struct sl_field conductor_out[] = {
  SL_REAL(S, resistance, SL_OHM_LENGTH, "direct current, at 75 degC"),
  SL_REAL(S, area, SL_SECTION, "of the metal"),
  SL_REAL(S, diameter, SL_LENGTH, "bare, overall"),
};
#undef S

#define S struct sl_overcurrent_in
static const struct sl_field overcurrent_in[] = {
  SL_REAL(S, required, SL_CURRENT, "what the device must carry"),
  SL_REAL(S, ampacity, SL_CURRENT, "usable ampacity of the conductor"),
  SL_CHOICE(S, material, sl_materials, "of the conductor"),
  SL_TEXT(S, size, SIZE),
  SL_CHOICE(S, device, sl_devices, "some standard ratings are of fuses only"),
  SL_CHOICE(S, edition, sl_editions, "edition of the electrical code"),
};
#undef S
#define S struct sl_overcurrent_out
static const struct sl_field overcurrent_out[] = {
  SL_REAL(S, least, SL_CURRENT, "smallest standard rating that carries what is required"),
  SL_REAL(S, allowed, SL_CURRENT, "largest rating that protects the conductor"),
};
#undef S

#define S struct sl_grounding_conductor_in
static const struct sl_field grounding_conductor_in[] = {
  SL_REAL(S, device, SL_CURRENT, "rating of the overcurrent device ahead"),
  SL_CHOICE(S, material, sl_materials, "of the grounding conductor"),
  SL_TEXT(S, edition, "edition of the electrical code: \"NEC 2023\""),
};
#undef S
#define S struct sl_grounding_conductor_out
static const struct sl_field grounding_conductor_out[] = {
  SL_TEXT(S, size, "smallest size"),
  SL_REAL(S, row, SL_CURRENT, "rating of the table's row"),
};
#undef S

#define S struct sl_grounding_enlarged_in
static const struct sl_field grounding_enlarged_in[] = {
  SL_REAL(S, device, SL_CURRENT, "rating of the overcurrent device ahead"),
  SL_CHOICE(S, material, sl_materials, "of all conductors of the circuit"),
  SL_TEXT(S, edition, "edition of the electrical code: \"NEC 2023\""),
  SL_TEXT(S, least_size, "size that the circuit needed"),
  SL_TEXT(S, size, "size that is installed"),
};
#undef S
#define S struct sl_grounding_enlarged_out
static const struct sl_field grounding_enlarged_out[] = {
  SL_REAL(S, ratio, SL_NUMBER, "installed metal over what was needed"),
  SL_REAL(S, area, SL_SECTION, "metal wanted, before the next size up"),
  SL_TEXT(S, size, "smallest size"),
};
#undef S

#define S struct sl_voltage_drop_in
static const struct sl_field voltage_drop_in[] = {
  SL_REAL(S, length, SL_LENGTH, "of the run, one way"),
  SL_REAL(S, current, SL_CURRENT, "operating current"),
  SL_REAL(S, voltage, SL_VOLTAGE, "operating voltage"),
  SL_CHOICE(S, material, sl_materials, "of the conductor"),
  SL_TEXT(S, size, SIZE),
  SL_CHOICE(S, stranding, sl_strandings, "8 AWG and larger is stranded in raceways"),
  SL_REAL_OPT(S, conductor_temperature, SL_TEMPERATURE, "the table's own, 75 degC, if not said"),
};
#undef S
#define S struct sl_voltage_drop_out
static const struct sl_field voltage_drop_out[] = {
  SL_REAL(S, drop, SL_VOLTAGE, "lost over both wires"),
  SL_REAL(S, ratio, SL_RATIO, "of the operating voltage"),
  SL_REAL(S, loss, SL_POWER, "turned into heat"),
};
#undef S

#define S struct sl_group
static const struct sl_field group[] = {
  SL_TEXT(S, size, SIZE),
  SL_COUNT(S, count, "conductors of that size and insulation"),
  SL_TEXT_OPT(S, insulation, "insulation type; left out where they are bare"),
  SL_FLAG_OPT(S, bare, "true if they have no insulation"),
  SL_CHOICE_OPT(S, stranding, sl_strandings, "of bare ones; stranded if not said"),
};
#undef S
#define S struct sl_raceway_fill_in
static const struct sl_field raceway_fill_in[] = {
  SL_CHOICE(S, kind, sl_raceways, "of raceway"),
  SL_TEXT(S, trade_size, "as the tables have it: \"1\", \"1-1/4\""),
  SL_ROWS(S, conductors, groups, struct sl_group, group, "all of them, those that are alike in one table"),
  SL_FLAG_OPT(S, nipple, "true for 24in or less between boxes"),
};
#undef S
#define S struct sl_raceway_fill_out
static const struct sl_field raceway_fill_out[] = {
  SL_REAL(S, conductors_area, SL_SECTION, "of all conductors with their insulation"),
  SL_REAL(S, raceway_area, SL_SECTION, "inside"),
  SL_REAL(S, ratio, SL_RATIO, "filled"),
  SL_REAL(S, limit_ratio, SL_RATIO, "allowed for that many conductors"),
  SL_FLAG(S, fits, "true if within the limit"),
  SL_COUNT(S, most, "conductors like the first alone that the raceway takes"),
  SL_REAL(S, jam, SL_NUMBER, "inside diameter over that of the first conductors"),
  SL_REAL(S, jam_bent, SL_NUMBER, "the same with the handbooks' allowance for oval bends"),
  SL_FLAG(S, jams, "true if three equal conductors may jam, by the code's note"),
  SL_FLAG(S, jams_bent, "true if three equal conductors may jam, by the handbooks"),
  SL_TEXT(S, least_trade, "smallest trade size of this kind that fits; empty if none does"),
};
#undef S

#define S struct sl_bends_in
static const struct sl_field bends_in[] = {
  SL_LIST(S, angles, bends, SL_ANGLE, "of every bend between two pull points"),
};
#undef S
#define S struct sl_bends_out
static const struct sl_field bends_out[] = {
  SL_REAL(S, total, SL_ANGLE, "of all bends"),
  SL_REAL(S, limit, SL_ANGLE, "allowed between pull points"),
};
#undef S

#define S struct sl_cover_in
static const struct sl_field cover_in[] = {
  SL_CHOICE(S, method, sl_cover_methods, "what is buried"),
  SL_CHOICE(S, location, sl_cover_locations, "what is above it"),
  SL_CHOICE(S, edition, sl_editions, "edition of the electrical code"),
};
#undef S
#define S struct sl_cover_out
static const struct sl_field cover_out[] = {
  SL_REAL(S, least, SL_LENGTH, "from the top of cable or raceway to finished grade"),
  SL_REAL(S, tape, SL_LENGTH, "least height of a warning ribbon above it, where one is laid"),
};
#undef S

SL_OP_CALL(insulation)
SL_OP_CALL(ampacity)
SL_OP_CALL(conductor)
SL_OP_CALL(overcurrent)
SL_OP_CALL(grounding_conductor)
SL_OP_CALL(grounding_enlarged)
SL_OP_CALL(voltage_drop)
SL_OP_CALL(raceway_fill)
SL_OP_CALL(bends)
SL_OP_CALL(cover)

SL_OPS(wire, 60) = {
  SL_OP(insulation, "what an insulation type may be used for"),
  SL_OP(ampacity, "what current a conductor may carry, before and after the factors"),
  SL_OP(conductor, "resistance, metal and diameter of a conductor"),
  SL_OP(overcurrent, "least and largest overcurrent device of a circuit"),
  SL_OP(grounding_conductor, "smallest equipment grounding conductor"),
  SL_OP(grounding_enlarged, "the same where the circuit's conductors are larger than they must be"),
  SL_OP(voltage_drop, "direct-current drop over both wires of a run"),
  SL_OP(raceway_fill, "share of a raceway that its conductors fill"),
  SL_OP(bends, "bends between two pull points"),
  SL_OP(cover, "least cover over an underground circuit"),
  { 0 },
};
