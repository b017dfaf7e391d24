/* Where children come from. SPDX-License-Identifier: MIT
 *
 * A process that is forked has all that its parent has in memory: of the server, pieces of what others have
 * sent. So children are not forked from it but from the nursery, a process that was forked before anything
 * came, and is handed one question at a time over a socket, with the descriptors that its child needs. By
 * CLONE_PARENT the child is the server's all the same: the server waits for it and ends it. */
#include "page/server.h"

#include <errno.h>
#include <poll.h>
#include <sched.h>
#include <signal.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <unistd.h>

enum { PATIENCE_SECONDS = 2, END_TRIES = 100 };

typedef struct Birth {
    bool keeper;
    Question question; /* what points into the server's memory is not followed */
    const char *text;  /* where its form's text is there */
} Birth;

typedef union Files {
    struct cmsghdr align;
    char bytes[CMSG_SPACE(BIRTH_FILES * sizeof(int))];
} Files;

/* --- in the nursery --- */

static int get_birth(int from, Birth *birth, int file[BIRTH_FILES]) {
    Files files = {0};
    struct iovec part = {birth, sizeof *birth};
    struct msghdr message = {
        .msg_iov = &part, .msg_iovlen = 1, .msg_control = &files, .msg_controllen = sizeof files};
    ssize_t size;
    do size = recvmsg(from, &message, MSG_CMSG_CLOEXEC);
    while (size < 0 && errno == EINTR);
    const struct cmsghdr *with = CMSG_FIRSTHDR(&message);
    int count = with ? (int)((with->cmsg_len - CMSG_LEN(0)) / sizeof(int)) : 0;
    for (int i = 0; i < BIRTH_FILES; i++) file[i] = -1;
    if (count > 0) memcpy(file, CMSG_DATA(with), (size_t)count * sizeof(int));
    return size == (ssize_t)sizeof *birth && count >= 2 ? 1 : size > 0 ? 0 : -1;
}

/* As fork, but the child's parent is this process's own; there is one thread. */
static pid_t fork_for_server(void) {
    const long flags = CLONE_PARENT | SIGCHLD;
#ifdef __s390__ /* which takes the stack first */
    return (pid_t)syscall(SYS_clone, 0L, flags, 0L, 0L, 0L);
#else
    return (pid_t)syscall(SYS_clone, flags, 0L, 0L, 0L, 0L);
#endif
}

static _Noreturn void run(const Server *server, int from) {
    static Birth birth;
    int file[BIRTH_FILES];
    (void)prctl(PR_SET_PDEATHSIG, SIGKILL);
    for (int got; (got = get_birth(from, &birth, file)) >= 0;) {
        Form *form = &birth.question.form;
        for (int i = 0; i < form->fields; i++) {
            form->field[i].name = form->text + (form->field[i].name - birth.text);
            form->field[i].value = form->text + (form->field[i].value - birth.text);
        }
        pid_t pid = got ? fork_for_server() : -1;
        if (pid == 0) child_work(server, &birth.question, birth.keeper, file);
        for (int i = 0; i < BIRTH_FILES; i++)
            if (file[i] >= 0) (void)close(file[i]);
        if (send(from, &pid, sizeof pid, MSG_NOSIGNAL) != (ssize_t)sizeof pid) break;
    }
#ifdef COUNT_LINES
    extern void __gcov_dump(void);
    __gcov_dump();
#endif
    _exit(0);
}

/* --- in the server --- */

bool nursery_begin(Server *server) {
    const struct timeval patience = {PATIENCE_SECONDS, 0};
    int end[2];
    if (socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, end) != 0) return false;
    (void)setsockopt(end[0], SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    server->nursery_pid = fork();
    if (server->nursery_pid == 0) {
        (void)close(end[0]);
        run(server, end[1]);
    }
    (void)close(end[1]);
    server->nursery = end[0];
    return server->nursery_pid > 0;
}

void nursery_end(Server *server) {
    if (server->nursery >= 0) (void)close(server->nursery);
    const pid_t pid = server->nursery_pid;
    for (int i = 0; pid > 0 && waitpid(pid, NULL, WNOHANG) == 0; i++) {
        if (i == END_TRIES) (void)kill(pid, SIGKILL);
        (void)poll(NULL, 0, 1);
    }
    server->nursery = -1;
    server->nursery_pid = 0;
}

/* 0: the nursery is gone. */
static pid_t ask(const Server *server, const Question *question, bool keeper, const int file[BIRTH_FILES]) {
    static Birth birth;
    Files files = {0};
    const size_t size = (file[2] >= 0 ? 3 : 2) * sizeof(int);
    struct iovec part = {&birth, sizeof birth};
    struct msghdr message = {
        .msg_iov = &part, .msg_iovlen = 1, .msg_control = &files, .msg_controllen = CMSG_SPACE(size)};
    struct cmsghdr *with = CMSG_FIRSTHDR(&message);
    pid_t pid;
    birth = (Birth){.keeper = keeper, .question = *question, .text = question->form.text};
    *with = (struct cmsghdr){.cmsg_level = SOL_SOCKET, .cmsg_type = SCM_RIGHTS, .cmsg_len = CMSG_LEN(size)};
    memcpy(CMSG_DATA(with), file, size);
    if (sendmsg(server->nursery, &message, MSG_NOSIGNAL) != (ssize_t)sizeof birth)
        return errno == EPIPE || errno == ECONNRESET ? 0 : -1;
    return read(server->nursery, &pid, sizeof pid) == (ssize_t)sizeof pid ? pid : 0;
}

/* A nursery that somebody has killed is replaced, by one that is no longer free of what has come since. */
pid_t nursery_child(Server *server, const Question *question, bool keeper, const int file[BIRTH_FILES]) {
    pid_t pid = ask(server, question, keeper, file);
    if (pid) return pid;
    nursery_end(server);
    return nursery_begin(server) && (pid = ask(server, question, keeper, file)) ? pid : -1;
}
