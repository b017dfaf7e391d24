/* The lists. SPDX-License-Identifier: MIT */
#include "model/bill.h"

#include <stdlib.h>

void bill_free(Bill *bill) {
    free(bill->rope);
    free(bill->pull);
    *bill = (Bill){0};
}
