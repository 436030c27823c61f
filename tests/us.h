/* SPDX-License-Identifier: MIT
 * Units that the published examples are printed in.  Written here again, apart from the library's own. */
#ifndef SL_TEST_US_H
#define SL_TEST_US_H

#define MM    0.001
#define IN    0.0254
#define FT    0.3048
#define FT2   (FT * FT)
#define FT3   (FT * FT * FT)
#define LB    0.45359237
#define LBF   4.4482216152605
#define PSI   (LBF / (IN * IN))
#define PSF   47.88025898033584
#define PSF_FT (PSF / FT)
#define MPH   0.44704
#define DEGREE 0.017453292519943295

#endif
