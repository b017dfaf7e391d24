/* Children that stay with their picture. SPDX-License-Identifier: MIT
 *
 * A shop asks about one logo many times in a row, with another size, another candy. So a child that has
 * answered rests, and the next question about the same bytes is its own: what it knows of the picture is not
 * worked out again. It has a socket of messages (SOCK_SEQPACKET):
 *
 *     to the child:  'a' and a question, names and values each closed by 0;  'x': the answer is not wanted
 *     to the server: 'g' or 'b': the answer is whole, and it is good or not. It rests from then on.
 *
 * The picture is sealed, so that a child that was taken over by it stands for these bytes and no others. A
 * child whose client has left stops as soon as it looks, and is killed if that takes too long. One that
 * speaks or writes while it rests, or goes on working, was taken over: it is killed. */
#include "page/server.h"

#include <errno.h>
#include <fcntl.h>
#include <malloc.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum {
    REST_SECONDS = 60, /* unasked, then it is ended */
    END_MS = 1000,     /* it has to stop, or to end, when told */
    SOON_MS = 3000,    /* unasked, then it gives memory back */
    REST_MS = 1000,    /* of the processor's time, all that it may use while it rests */
    MESSAGE_MOST = 1 + sizeof((Form *)0)->logo_name + FORM_TEXT,
    COMPARED = 64 << 10
};

/* --- in the child --- */

static bool is_told(void *user) {
    (void)user;
    return poll(&(struct pollfd){.fd = STAY_SOCKET, .events = POLLIN}, 1, 0) > 0;
}

/* The next of the texts that are closed by 0; NULL behind the last. */
static const char *next_text(const char **at, const char *end) {
    const char *text = *at, *close = text < end ? memchr(text, 0, (size_t)(end - text)) : NULL;
    if (!close) return NULL;
    *at = close + 1;
    return text;
}

/* Waits for the next question; false if none comes any more. A stop that came too late is passed over. */
static bool wait_for_question(char message[MESSAGE_MOST], PageField field[FIELDS_MAX], PageAsk *ask) {
    ssize_t size;
    if (poll(&(struct pollfd){.fd = STAY_SOCKET, .events = POLLIN}, 1, SOON_MS) == 0) (void)malloc_trim(0);
    do size = read(STAY_SOCKET, message, MESSAGE_MOST);
    while ((size < 0 && errno == EINTR) || (size > 0 && *message != 'a'));
    if (size <= 0) return false;
    const char *at = message + 1, *end = message + size;
    ask->logo = next_text(&at, end);
    ask->field = field;
    for (ask->fields = 0; ask->logo && ask->fields < FIELDS_MAX; ask->fields++) {
        PageField *next = &field[ask->fields];
        next->name = next_text(&at, end);
        next->value = next->name ? next_text(&at, end) : NULL;
        if (!next->value) break;
    }
    return ask->logo != NULL;
}

bool stay_and_answer(const PagePlan *plan, PageAsk ask, FILE *file) {
    static char message[MESSAGE_MOST];
    static PageField field[FIELDS_MAX];
    const Stop stop = {is_told, NULL};
    void *kept = NULL;
    ask.kept = &kept;
    ask.stop = &stop;
    do {
        bool good = plan->reply(plan->user, &ask, file);
        good = fflush(file) == 0 && !ferror(file) && good;
        if (write(STAY_SOCKET, good ? "g" : "b", 1) != 1) return false;
    } while (wait_for_question(message, field, &ask));
    return true;
}

/* --- in the server --- */

bool stay_socket(int out[2]) {
    if (socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, out) == 0) {
        (void)fcntl(out[0], F_SETFL, O_NONBLOCK);
        return true;
    }
    out[0] = out[1] = -1;
    return false;
}

static bool same_bytes(int a, int b, size_t size) {
    static char one[COMPARED], other[COMPARED];
    for (size_t at = 0; at < size;) {
        ssize_t some = pread(a, one, sizeof one, (off_t)at);
        if (some <= 0 || pread(b, other, (size_t)some, (off_t)at) != some) return false;
        if (memcmp(one, other, (size_t)some) != 0) return false;
        at += (size_t)some;
    }
    return true;
}

void stay_with(Child *child, const Question *question, int asks) {
    const Form *form = &question->form;
    child->asks = asks;
    child->logo = fcntl(form->logo, F_DUPFD_CLOEXEC, 0);
    child->logo_size = form->logo_size;
    child->logo_mark = form->logo_mark;
}

bool seal_picture(int logo) {
    const int all = F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE | F_SEAL_SEAL;
    return fcntl(logo, F_GET_SEALS) == all || fcntl(logo, F_ADD_SEALS, all) == 0;
}

Child *stay_find(Server *server, const Question *question, bool *soon) {
    const Form *form = &question->form;
    for (int i = 0; i < server->places; i++) {
        Child *child = &server->child[i];
        if (child->pid == 0 || child->asks < 0 || child->logo < 0 || child->question || child->late) continue;
        if (child->kind != question->question || child->logo_size != form->logo_size ||
            child->logo_mark != form->logo_mark)
            continue;
        if (child->rests && same_bytes(child->logo, form->logo, form->logo_size)) return child;
        *soon = *soon || !child->rests;
    }
    return NULL;
}

static bool append(char message[MESSAGE_MOST], size_t *used, const char *text) {
    size_t size = strlen(text) + 1;
    if (size > MESSAGE_MOST - *used) return false;
    memcpy(message + *used, text, size);
    *used += size;
    return true;
}

bool stay_ask(Child *child, const Question *question) {
    static char message[MESSAGE_MOST];
    const Form *form = &question->form;
    size_t used = 1;
    *message = 'a';
    bool fits = append(message, &used, form->logo_name);
    for (int i = 0; fits && i < form->fields; i++)
        fits = append(message, &used, form->field[i].name) && append(message, &used, form->field[i].value);
    return fits && send(child->asks, message, used, MSG_NOSIGNAL | MSG_DONTWAIT) == (ssize_t)used;
}

void stay_stop(Child *child) {
    if (send(child->asks, "x", 1, MSG_NOSIGNAL | MSG_DONTWAIT) != 1) {
        (void)kill(child->pid, SIGKILL);
        return;
    }
    int64_t until = now_ms() + END_MS;
    if (until < child->until) child->until = until;
}

void stay_end(Child *child) {
    (void)close(child->asks);
    child->asks = -1;
    child->rests = false;
    child->until = now_ms() + END_MS;
}

void stay_distrust(Child *child) {
    stay_end(child);
    (void)kill(child->pid, SIGKILL);
}

/* The processor's time that it has used, ms; -1: it has ended. */
static int64_t used_ms(const Child *child) {
    clockid_t its;
    struct timespec used;
    if (clock_getcpuclockid(child->pid, &its) != 0 || clock_gettime(its, &used) != 0) return -1;
    return (int64_t)used.tv_sec * 1000 + used.tv_nsec / 1000000;
}

bool stay_is_busy(const Child *child) {
    return used_ms(child) > child->used + REST_MS;
}

static void end_question(Question *question, bool good) {
    question->stage = ENDED;
    question->good = good && question->body > 0;
    if (!question->good)
        (void)snprintf(question->line, sizeof question->line, "the answer was not finished; ask again");
    question_wake(question);
}

void stay_told(Server *server, Child *child) {
    char word = 0;
    ssize_t size = read(child->asks, &word, 1);
    if (size < 0 && (errno == EINTR || errno == EAGAIN)) return;
    if (size == 1 && child->rests) {
        stay_distrust(child);
        return;
    }
    Question *question = child->question;
    if (child->pipe >= 0) child_read(server, child); /* all of the answer is there */
    if (size != 1 || child->pipe < 0 || (question && question->refused)) {
        stay_end(child); /* it ends, or its answer was not as it must be: finish tells the client */
        return;
    }
    child->question = NULL;
    if (question) end_question(question, word == 'g');
    child->used = used_ms(child);
    if (child->used < 0 || child->used >= (int64_t)seconds_of(server->plan, child->kind) * 2000) {
        stay_end(child); /* half of what it has in all is used up: it is not asked again */
        return;
    }
    const int rest = server->plan->rest_seconds;
    child->rests = true;
    child->until = now_ms() + (int64_t)(rest > 0 ? rest : REST_SECONDS) * 1000;
}
