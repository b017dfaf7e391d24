/* The program: prints what went wrong, and ends. SPDX-License-Identifier: MIT */
#include "app/command.h"
#include "base/mem.h"
#include "base/text.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

/* Standard streams that are closed at the start are opened on what fails when used. Else a file of the job
 * would be opened in their place, and what is printed would end up in it. */
static void fill_streams(void) {
    for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; fd++)
        if (fcntl(fd, F_GETFD) < 0)
            (void)open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY); /* takes the lowest free: fd */
}

/* What the libraries would take from the environment and none of our runs should: another backend, tests of
 * their own, and lines for those who mend them, which would end up among ours. */
static void forget_settings(void) {
    static const char *const name[] = {
        "PANGOCAIRO_BACKEND", "PANGO_LANGUAGE", "FC_DEBUG", "FC_DBG_MATCH_FILTER", "FREETYPE_PROPERTIES",
        "HB_OPTIONS",         "HB_SHAPER_LIST", "G_DEBUG",  "G_MESSAGES_DEBUG",    "G_ENABLE_DIAGNOSTIC"};
    for (size_t i = 0; i < sizeof name / sizeof *name; i++) (void)unsetenv(name[i]);
}

int main(int argc, char *argv[]) {
    fill_streams();
    forget_settings();
    mem_keep();
    (void)signal(SIGPIPE, SIG_IGN); /* when a reader leaves, what -o asks for is still written: file_close */
    (void)signal(SIGXFSZ, SIG_IGN); /* a file that may not grow further is told like a full disk */
    Err err = {0};
    int status = command_run(argc, argv, &err);
    if (err.code == ERR_NONE) return status;
    char line[sizeof err.msg];
    text_clean(line, sizeof line, err.msg);
    fprintf(stderr, "logocane: %s\n", line);
    return err_status(err.code);
}
