/* SPDX-License-Identifier: MIT
 * The choices that wind, snow and footing share: edition of the load standard, exposure, risk category. */
#ifndef STRINGLINE_ASCE7_H
#define STRINGLINE_ASCE7_H

enum sl_asce7 { SL_ASCE_7_16, SL_ASCE_7_22 };
enum sl_exposure { SL_EXPOSURE_B, SL_EXPOSURE_C, SL_EXPOSURE_D };   /* wooded or built-up; open country; open water */
enum sl_risk { SL_RISK_I, SL_RISK_II, SL_RISK_III, SL_RISK_IV };

#endif
