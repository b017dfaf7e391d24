/* The processes that answer. SPDX-License-Identifier: MIT
 *
 * The nursery forks them (nursery.c). The child closes all but the picture and its pipe, is shut in, and ends
 * without tidying up, or stays (stay.c). A place is free again when the system has reported the child's
 * end, so that there are never more of them than places. */
#include "page/server.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum {
    SECONDS = 60,
    SWEEP_SECONDS = 240,
    KEEP_SECONDS = 60,
    PIECE = 64 << 10,
    PIECES = 16, /* read of one child in a turn: more than a pipe holds */
    HEAD_MOST = 200,
    REST_LOOK = 1000 /* ms: so often those that rest are looked at */
};

int64_t now_ms(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

int seconds_of(const PagePlan *plan, PageQuestion question) {
    int own = plan->seconds[question];
    return own > 0 ? own : question == PAGE_SWEEP ? SWEEP_SECONDS : SECONDS;
}

/* --- in the child --- */

static void close_from(unsigned first) {
    if (syscall(SYS_close_range, first, ~0U, 0) == 0) return;
    long most = sysconf(_SC_OPEN_MAX);
    for (long at = first; at < (most > 0 ? most : 1024); at++) (void)close((int)at);
}

/* Standard input is `in`, standard output `out`, and nothing else is open but what fails when used. Signals
 * are as they were when the program started. */
static FILE *settle(const Server *server, int in, int out, int signal_of_end) {
    static const int ours[] = {SIGTERM, SIGINT, SIGHUP, SIGCHLD};
    for (size_t i = 0; i < sizeof ours / sizeof *ours; i++) (void)signal(ours[i], SIG_DFL);
    (void)prctl(PR_SET_PDEATHSIG, signal_of_end);
    if (getppid() != server->pid) _exit(1);
    if (in < 0) in = open("/dev/null", O_RDONLY | O_CLOEXEC);
    if (dup2(out, STDOUT_FILENO) < 0 || dup2(in, STDIN_FILENO) < 0) _exit(1);
    int nothing = open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nothing >= 0 && nothing != STDERR_FILENO) (void)dup2(nothing, STDERR_FILENO);
    (void)sigprocmask(SIG_SETMASK, &server->before, NULL);
    return fdopen(STDOUT_FILENO, "wb");
}

/* Ends the process without tidying up. Where lines are counted (make cov) the counts are written first, which
 * is why nothing is shut in then. */
static _Noreturn void end(bool good) {
#ifdef COUNT_LINES
    extern void __gcov_dump(void);
    __gcov_dump();
#endif
    _exit(!good);
}

static _Noreturn void answer(const Server *server, const Question *question, int out, int asks) {
    const PagePlan *plan = server->plan;
    const Form *form = &question->form;
    PageAsk ask = {.question = question->question,
                   .logo = form->logo_name,
                   .fields = form->fields,
                   .field = form->field};
    (void)lseek(form->logo, 0, SEEK_SET);
    FILE *file = settle(server, form->logo, out, SIGKILL);
    bool stays = asks >= 0 && dup2(asks, STAY_SOCKET) == STAY_SOCKET;
    close_from(STDERR_FILENO + 1 + stays);
    bool good = file && shut_in(plan->fonts[ask.question], seconds_of(plan, ask.question)) &&
                (stays ? stay_and_answer(plan, ask, file) : plan->reply(plan->user, &ask, file));
    end(file && fflush(file) == 0 && !ferror(file) && good);
}

static bool field_is(const Form *form, const char *name, const char *value) {
    for (int i = 0; i < form->fields; i++)
        if (strcmp(form->field[i].name, name) == 0) return strcmp(form->field[i].value, value) == 0;
    return false;
}

static _Noreturn void keep(const Server *server, const Question *question, int out) {
    FILE *file = settle(server, question->spool, out, SIGTERM);
    close_from(STDERR_FILENO + 1);
    bool good = file && keep_folder(server->plan, question->name, field_is(&question->form, "force", "yes"),
                                    STDIN_FILENO, question->body, file);
    end(file && fflush(file) == 0 && !ferror(file) && good);
}

_Noreturn void child_work(const Server *server, Question *question, bool keeper,
                          const int file[BIRTH_FILES]) {
    question->form.logo = question->spool = file[0];
    if (keeper) keep(server, question, file[1]);
    answer(server, question, file[1], file[2]);
}

/* --- in the server --- */

static int count_working(const Server *server) {
    int count = 0;
    for (int i = 0; i < server->places; i++) count += server->child[i].pid > 0 && !server->child[i].rests;
    return count;
}

int children_free(const Server *server) {
    int working = count_working(server);
    return working < server->children ? server->children - working : 0;
}

/* NULL if there is none, with the one that has rested longest ended: its place will be free. */
static Child *free_place(Server *server) {
    Child *oldest = NULL;
    for (int i = 0; i < server->places; i++) {
        Child *child = &server->child[i];
        if (child->pid == 0) return child;
        if (child->rests && (!oldest || child->until < oldest->until)) oldest = child;
    }
    if (oldest) stay_end(oldest);
    return NULL;
}

static void ended_badly(Server *server, Question *question, const char *line) {
    question->stage = ENDED;
    question->good = false;
    (void)snprintf(question->line, sizeof question->line, "%s", line);
    question_wake(question);
    server->run_again = true;
}

/* The child works on the question, and writes to the spool. */
static void give(Server *server, Child *child, Question *question, int spool) {
    if (question->spool >= 0) (void)close(question->spool); /* a keeper has it now */
    question->spool = spool;
    question->written = question->body = 0;
    question->stage = child->keeper ? KEEPING : RUNNING;
    int seconds = child->keeper ? KEEP_SECONDS : seconds_of(server->plan, question->question);
    child->question = question;
    child->until = now_ms() + (int64_t)seconds * 1000;
    child->rests = false;
}

static const char no_room[] = "this computer has no room for one more question; try again in a moment";

static void close_end(int end) {
    if (end >= 0) (void)close(end);
}

/* The question is ended if the system has no room for it. */
static void begin(Server *server, Child *child, Question *question, bool keeper) {
    int end[2] = {-1, -1}, asks[2] = {-1, -1};
    int spool = memory_file(), logo = question->form.logo;
    bool stays =
        !keeper && server->plan->stays[question->question] && seal_picture(logo) && stay_socket(asks);
    pid_t pid = -1;
    if (spool >= 0 && pipe2(end, O_CLOEXEC) == 0)
        pid = nursery_child(server, question, keeper,
                            (int[BIRTH_FILES]){keeper ? question->spool : logo, end[1], asks[1]});
    close_end(end[1]);
    close_end(asks[1]);
    if (pid < 0) {
        close_end(end[0]);
        close_end(asks[0]);
        close_end(spool);
        ended_badly(server, question, no_room);
        return;
    }
    (void)fcntl(end[0], F_SETFL, O_NONBLOCK);
    *child = (Child){.pid = pid, .pipe = end[0], .keeper = keeper, .kind = question->question};
    child->asks = child->logo = -1;
    if (stays) stay_with(child, question, asks[0]);
    give(server, child, question, spool);
}

static void ask_again(Server *server, Child *child, Question *question) {
    int spool = memory_file();
    if (spool < 0) {
        ended_badly(server, question, no_room);
    } else if (stay_ask(child, question)) {
        give(server, child, question, spool);
        child->again = true;
    } else {
        (void)close(spool);
        stay_end(child); /* another will be begun */
    }
}

void children_start(Server *server) {
    for (Question *q = server->first; q && !server->stopping; q = q->next) {
        if (q->stage != WAITING) continue;
        if (count_working(server) >= server->children) return;
        bool soon = false;
        Child *child = stay_find(server, q, &soon);
        if (child)
            ask_again(server, child, q);
        else if (!soon && (child = free_place(server)))
            begin(server, child, q, false);
    }
}

/* "200 1 name": what the child may say, and no more. */
static bool parse_head(Question *question, const char *line) {
    static const char form[] = "000 0 ";
    for (int i = 0; form[i]; i++)
        if (form[i] == ' ' ? line[i] != ' ' : line[i] < '0' || line[i] > '9') return false;
    int status = (line[0] - '0') * 100 + (line[1] - '0') * 10 + line[2] - '0', kind = line[4] - '0';
    const char *name = line + sizeof form - 1;
    bool fits = status == 200 || (status >= 400 && status < 600 && kind == PAGE_JSON);
    if (!fits || kind > PAGE_FOLDER) return false;
    if ((kind == PAGE_FOLDER) != (question->question == PAGE_KEEP && kind != PAGE_JSON)) return false;
    question->status = status;
    question->kind = (PageKind)kind;
    if (*name) page_name(name, question->name);
    return true;
}

/* Looks for the head's line in what is written. False: there is none where it must be. */
static bool look_for_head(Question *question) {
    char head[HEAD_MOST + 1];
    ssize_t size = pread(question->spool, head, HEAD_MOST, 0);
    if (size < 0) return false;
    head[size] = 0;
    char *end = strchr(head, '\n');
    if (!end) return size < HEAD_MOST;
    *end = 0;
    question->body = (size_t)(end - head) + 1;
    return parse_head(question, head);
}

static bool take_piece(Server *server, Question *question, const char *bytes, size_t size) {
    question->written += size;
    question->held += size;
    server->held += size;
    if (question->written > ANSWER_MOST) return false;
    if (server->held > HELD_MOST + ANSWER_MOST || !write_all(question->spool, bytes, size)) {
        (void)snprintf(question->line, sizeof question->line, "%s", no_room);
        return false;
    }
    if (question->body == 0 && !look_for_head(question)) return false;
    if (question->body > 0 && question->kind == PAGE_LINES) question_wake(question);
    return true;
}

static void close_pipe(Child *child) {
    (void)close(child->pipe);
    child->pipe = -1;
}

/* So much and no more, that one who writes without end does not keep the server from ending him. */
void child_read(Server *server, Child *child) {
    char piece[PIECE];
    for (int i = 0; i < PIECES; i++) {
        ssize_t size = read(child->pipe, piece, sizeof piece);
        if (size < 0 && errno == EINTR) continue;
        if (size < 0) return; /* no more for now */
        if (size == 0) {
            close_pipe(child);
            if (child->rests) stay_end(child); /* who cannot answer is not asked */
            return;
        }
        if (child->rests) {
            stay_distrust(child);
            return;
        }
        if (!child->question || take_piece(server, child->question, piece, (size_t)size)) continue;
        child->question->refused = true; /* it may have ended by itself before it is killed */
        (void)kill(child->pid, SIGKILL);
        close_pipe(child);
        return;
    }
}

static void tell_end(const Child *child, int status, char line[200]) {
    int signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
    if (child->late || signal == SIGXCPU)
        (void)snprintf(line, 200,
                       "this took too long and was given up; try fewer candies, or a plainer picture");
    else
        (void)snprintf(
            line, 200,
            "the part of the program that looked at this picture broke down (%s %d); the page goes on",
            signal ? "signal" : "status", signal ? signal : WEXITSTATUS(status));
}

/* The child has ended: its question is answered, or a keeper takes over its place. */
static void finish(Server *server, Child *child, int status) {
    Question *question = child->question;
    if (child->pipe >= 0) child_read(server, child);
    close_end(child->pipe);
    close_end(child->asks);
    close_end(child->logo);
    Child ended = *child;
    *child = (Child){0};
    if (!question) return;
    question->good =
        WIFEXITED(status) && WEXITSTATUS(status) == 0 && question->body > 0 && !question->refused;
    bool folder = question->good && question->kind == PAGE_FOLDER && !ended.keeper && !question->left;
    if (folder && server->plan->dir) {
        begin(server, child, question, true);
        return;
    }
    if (ended.again && question->written == 0 && !ended.late && !question->left) {
        question->stage = WAITING; /* it was killed at rest, perhaps: another is begun */
        return;
    }
    if (question->kind == PAGE_FOLDER) question->good = false;
    question->stage = ENDED;
    if (!question->good && !question->line[0]) tell_end(&ended, status, question->line);
    question_wake(question);
}

void children_reap(Server *server) {
    for (int i = 0; i < server->places; i++) {
        int status;
        Child *child = &server->child[i];
        if (child->pid > 0 && waitpid(child->pid, &status, WNOHANG) == child->pid)
            finish(server, child, status);
    }
}

int64_t children_late(Server *server, int64_t now) {
    int64_t next = 0;
    for (int i = 0; i < server->places; i++) {
        Child *child = &server->child[i];
        if (child->pid == 0 || child->late) continue;
        if (child->rests && stay_is_busy(child)) stay_distrust(child);
        if (child->until <= now && child->rests) stay_end(child);
        if (child->until <= now) {
            child->late = true;
            (void)kill(child->pid, child->keeper ? SIGTERM : SIGKILL);
            continue;
        }
        int64_t look = child->rests && child->until > now + REST_LOOK ? now + REST_LOOK : child->until;
        if (next == 0 || look < next) next = look;
    }
    return next;
}

void children_end(Server *server, int64_t until) {
    int left = 0;
    for (int i = 0; i < server->places; i++) {
        Child *child = &server->child[i];
        left += child->pid > 0;
        if (child->pid > 0 && child->rests)
            stay_end(child);
        else if (child->pid > 0)
            (void)kill(child->pid, child->keeper ? SIGTERM : SIGKILL);
    }
    while (left > 0) {
        left = 0;
        for (int i = 0; i < server->places; i++) {
            Child *child = &server->child[i];
            bool late = child->pid > 0 && now_ms() >= until;
            if (late) (void)kill(child->pid, SIGKILL);
            if (child->pid > 0 && waitpid(child->pid, NULL, late ? 0 : WNOHANG) == child->pid) {
                close_end(child->pipe);
                close_end(child->asks);
                close_end(child->logo);
                *child = (Child){0};
            }
            left += child->pid > 0;
        }
        if (left > 0) (void)poll(NULL, 0, 5);
    }
}
