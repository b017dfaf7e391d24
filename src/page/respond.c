/* Responses. SPDX-License-Identifier: MIT */
#include "page/server.h"

#include "base/text.h"

#include <cjson/cJSON.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* What every response has: nothing from elsewhere, nothing inline, nothing kept by the browser. */
static const char *const heads[][2] = {
    {"Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' "
                                "data: blob:; connect-src 'self'; "
                                "form-action 'none'; base-uri 'none'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cache-Control", "no-store"},
};

static bool add_heads(struct MHD_Response *response, const char *type) {
    bool good = MHD_add_response_header(response, "Content-Type", type) == MHD_YES;
    for (size_t i = 0; i < sizeof heads / sizeof *heads; i++)
        good = MHD_add_response_header(response, heads[i][0], heads[i][1]) == MHD_YES && good;
    return good;
}

/* Queues the response and lets go of it. */
static enum MHD_Result queue(struct MHD_Connection *connection, int status, const char *type,
                             struct MHD_Response *response) {
    if (!response) return MHD_NO;
    enum MHD_Result queued = MHD_NO;
    if (add_heads(response, type)) queued = MHD_queue_response(connection, (unsigned)status, response);
    MHD_destroy_response(response);
    return queued;
}

/* Of bytes that stay where they are. */
static struct MHD_Response *of_bytes(const char *bytes, size_t size) {
    return MHD_create_response_from_iovec(&(struct MHD_IoVec){bytes, size}, 1, NULL, NULL);
}

enum MHD_Result respond_bytes(struct MHD_Connection *connection, const char *type, const char *bytes,
                              size_t size) {
    return queue(connection, 200, type, of_bytes(bytes, size));
}

enum MHD_Result respond_line(struct MHD_Connection *connection, int status, const char *line) {
    char clean[300];
    text_clean(clean, sizeof clean, line);
    cJSON *object = cJSON_CreateObject();
    char *text = cJSON_AddStringToObject(object, "line", clean) ? cJSON_PrintUnformatted(object) : NULL;
    cJSON_Delete(object);
    if (!text) return MHD_NO;
    struct MHD_Response *response =
        MHD_create_response_from_buffer(strlen(text), text, MHD_RESPMEM_MUST_COPY);
    cJSON_free(text);
    if (response && status == 405) (void)MHD_add_response_header(response, "Allow", "GET, HEAD, POST");
    return queue(connection, status, "application/json", response);
}

enum MHD_Result respond_login(struct MHD_Connection *connection) {
    static const char text[] = "This page asks for its password.\n";
    struct MHD_Response *response = of_bytes(text, sizeof text - 1);
    if (!response) return MHD_NO;
    enum MHD_Result queued = MHD_NO;
    if (add_heads(response, "text/plain; charset=utf-8"))
        queued = MHD_queue_basic_auth_fail_response(connection, "logocane", response);
    MHD_destroy_response(response);
    return queued;
}

/* --- a child's answer --- */

static const char *type_of(const char *name) {
    static const char *const types[][2] = {
        {".png", "image/png"},
        {".jpg", "image/jpeg"},
        {".pdf", "application/pdf"},
        {".csv", "text/csv; charset=utf-8"},
        {".txt", "text/plain; charset=utf-8"},
        {".json", "application/json"},
        {".zip", "application/zip"},
        {".html", "text/html; charset=utf-8"},
    };
    const char *dot = strrchr(name, '.');
    for (size_t i = 0; dot && i < sizeof types / sizeof *types; i++)
        if (strcmp(dot, types[i][0]) == 0) return types[i][1];
    return "application/octet-stream";
}

/* RFC 6266: the name in ASCII, and as it is. */
static bool name_file(struct MHD_Response *response, const char *name) {
    char value[PAGE_NAME * 4 + 80] = "attachment; filename=\"";
    for (const char *c = name; *c; c++)
        text_append(value, sizeof value, "%c", (unsigned char)*c < 128 ? *c : '_');
    text_append(value, sizeof value, "\"; filename*=UTF-8''");
    for (const char *c = name; *c; c++)
        text_append(value, sizeof value, (unsigned char)*c < 128 ? "%c" : "%%%02X", (unsigned char)*c);
    return MHD_add_response_header(response, "Content-Disposition", value) == MHD_YES;
}

/* Hands on what is there of the answer; with nothing new the connection sleeps until the child writes more.
 */
static ssize_t read_lines(void *user, uint64_t at, char *to, size_t most) {
    Question *question = user;
    size_t from = question->body + (size_t)at;
    if (question->left) return MHD_CONTENT_READER_END_WITH_ERROR;
    if (from < question->written) return pread(question->spool, to, most, (off_t)from);
    if (question->stage == ENDED)
        return question->good ? MHD_CONTENT_READER_END_OF_STREAM : MHD_CONTENT_READER_END_WITH_ERROR;
    question->suspended = true;
    MHD_suspend_connection(question->connection);
    return 0;
}

/* The spool is handed over: libmicrohttpd closes it. */
static struct MHD_Response *whole_answer(Question *question) {
    struct MHD_Response *response = MHD_create_response_from_fd_at_offset64(
        question->written - question->body, question->spool, question->body);
    if (response) question->spool = -1;
    return response;
}

enum MHD_Result respond_text(struct MHD_Connection *connection, const char *text) {
    return queue(
        connection, 200, "text/plain; charset=utf-8",
        MHD_create_response_from_buffer(strlen(text), (void *)(uintptr_t)text, MHD_RESPMEM_MUST_COPY));
}

enum MHD_Result respond_picture(struct MHD_Connection *connection, int file, size_t size, const char *name) {
    struct MHD_Response *response = MHD_create_response_from_fd64(size, file);
    if (!response) (void)close(file);
    char value[3 * 256] = "";
    for (const char *c = name; *c; c++) text_append(value, sizeof value, "%%%02X", (unsigned char)*c);
    if (response && MHD_add_response_header(response, "X-Logocane-Name", value) != MHD_YES) {
        MHD_destroy_response(response);
        return MHD_NO;
    }
    return queue(connection, 200, "application/octet-stream", response);
}

enum MHD_Result respond_answer(Server *server, Question *question) {
    (void)server;
    const char *type = question->kind == PAGE_LINES  ? "application/x-ndjson"
                       : question->kind == PAGE_FILE ? type_of(question->name)
                                                     : "application/json";
    if (question->stage == ENDED && !question->good && (question->body == 0 || question->kind != PAGE_LINES))
        return respond_line(question->connection, 500, question->line);
    struct MHD_Response *response =
        question->kind == PAGE_LINES
            ? MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, 64 << 10, read_lines, question, NULL)
            : whole_answer(question);
    if (response && question->kind == PAGE_FILE && !name_file(response, question->name)) {
        MHD_destroy_response(response);
        return MHD_NO;
    }
    return queue(question->connection, question->status, type, response);
}
