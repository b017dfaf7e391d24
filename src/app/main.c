/* The command. SPDX-License-Identifier: MIT */
#include "base/mem.h"
#include "app/run.h"
#include "base/text.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <unistd.h>

/* Standard streams that come closed are filled in with what fails when used, lest a file of the job be opened
 * in their place and take what is printed. */
static void fill_streams(void) {
    for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; fd++)
        if (fcntl(fd, F_GETFD) < 0)
            (void)open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY); /* takes the lowest free: fd */
}

int main(int argc, char *argv[]) {
    fill_streams();
    mem_keep();
    (void)signal(SIGPIPE, SIG_IGN); /* a reader that ends is an error of the write, told like others */
    Err err = {0};
    int status = run(argc, argv, &err);
    if (err.code == ERR_NONE) return status;
    char line[sizeof err.msg];
    text_clean(line, sizeof line, err.msg);
    fprintf(stderr, "logocane: %s\n", line);
    return err_status(err.code);
}
