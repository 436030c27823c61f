/* SPDX-License-Identifier: MIT
 * The choices that wind and snow share: exposure, risk category.  In words, each list ended by NULL. */
#ifndef STRINGLINE_ASCE7_H
#define STRINGLINE_ASCE7_H

enum sl_exposure { SL_EXPOSURE_B, SL_EXPOSURE_C, SL_EXPOSURE_D };   /* wooded or built-up; open country; open water */
enum sl_risk { SL_RISK_I, SL_RISK_II, SL_RISK_III, SL_RISK_IV };
extern const char *const sl_exposures[], *const sl_risks[];

#endif
