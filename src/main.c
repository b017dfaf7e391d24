/* The command. SPDX-License-Identifier: MIT */
#include "run.h"
#include "text.h"

#include <stdio.h>

int main(int argc, char *argv[]) {
    Err err = {0};
    int status = run(argc, argv, &err);
    if (err.code == ERR_NONE) return status;
    char line[sizeof err.msg];
    text_clean(line, sizeof line, err.msg);
    fprintf(stderr, "logocane: %s\n", line);
    return err_status(err.code);
}
