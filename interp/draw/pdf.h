/* SPDX-License-Identifier: MIT
 * What a PDF says of itself that its writer leaves out, as an update behind it. */
#ifndef SL_PDF_H
#define SL_PDF_H

#include "draw/written.h"

/* Puts behind a PDF its catalog once more, with its language, that it is not to be made to fit when it is printed, that
 * its title is shown, and an identity: 32 hexadecimal digits.  False: it is not built as expected. */
bool sl_pdf_update(struct sl_written *pdf, const char *identity);
#endif
