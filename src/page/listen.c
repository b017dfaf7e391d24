/* Where the page is, and who may come. SPDX-License-Identifier: MIT */
#include "page/server.h"

#include "base/units.h"

#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <string.h>
#include <strings.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <unistd.h>

enum { BACKLOG = 4096 }; /* who comes while many do waits; beyond, he has to knock again, a second later */

/* An address and a port. */
typedef union Place {
    struct sockaddr any;
    struct sockaddr_in v4;
    struct sockaddr_in6 v6;
} Place;

static socklen_t place_size(const Place *place) {
    return place->any.sa_family == AF_INET6 ? sizeof place->v6 : sizeof place->v4;
}

static bool place_parse(const char *host, long port, Place *out) {
    *out = (Place){0};
    if (inet_pton(AF_INET, host, &out->v4.sin_addr) == 1) {
        out->v4.sin_family = AF_INET;
        out->v4.sin_port = htons((uint16_t)port);
        return true;
    }
    *out = (Place){0};
    out->v6.sin6_family = AF_INET6;
    out->v6.sin6_port = htons((uint16_t)port);
    return inet_pton(AF_INET6, host, &out->v6.sin6_addr) == 1;
}

/* "127.0.0.1:8765", "[::1]:8765", "localhost:8765". */
static bool read_place(const char *text, Place *out, Err *err) {
    char host[80] = "";
    long port = 0;
    const char *colon = strrchr(text, ':');
    size_t length = colon ? (size_t)(colon - text) : 0;
    bool brackets = length > 2 && text[0] == '[' && text[length - 1] == ']';
    if (brackets) text++, length -= 2;
    if (length > 0 && length < sizeof host) memcpy(host, text, length);
    if (strcasecmp(host, "localhost") == 0) (void)snprintf(host, sizeof host, "127.0.0.1");
    if (colon && whole_parse(colon + 1, 0, 65535, &port) && place_parse(host, port, out) &&
        brackets == (out->any.sa_family == AF_INET6))
        return true;
    return err_set(err, ERR_USAGE,
                   "--page: \"%.60s\" is not an address and a port; write for example --page=" PAGE_AT
                   " or --page='[::1]:8765'",
                   brackets ? text - 1 : text);
}

static bool is_loopback(const Place *place) {
    if (place->any.sa_family == AF_INET6) return IN6_IS_ADDR_LOOPBACK(&place->v6.sin6_addr);
    return ntohl(place->v4.sin_addr.s_addr) >> 24 == 127;
}

static bool is_any(const Place *place) {
    if (place->any.sa_family == AF_INET6) return IN6_IS_ADDR_UNSPECIFIED(&place->v6.sin6_addr);
    return place->v4.sin_addr.s_addr == 0;
}

/* --- the password --- */

static bool read_password(const char *path, char out[PASSWORD_MOST + 2], Err *err) {
    struct stat about;
    FILE *file = fopen(path, "rb");
    if (!file)
        return err_set(err, ERR_USAGE,
                       "--page-password-file: %.200s cannot be opened (%s); write a password into it", path,
                       strerror(errno));
    bool known = fstat(fileno(file), &about) == 0 && S_ISREG(about.st_mode);
    bool open_to_others = known && (about.st_mode & (S_IRWXO | S_IWGRP));
    if (!fgets(out, PASSWORD_MOST + 2, file)) out[0] = 0;
    (void)fclose(file);
    size_t length = strcspn(out, "\r\n");
    bool ended = out[length] != 0 || length <= PASSWORD_MOST;
    out[length] = 0;
    if (!known) return err_set(err, ERR_USAGE, "--page-password-file: %.200s is no file; name one", path);
    if (open_to_others)
        return err_set(err, ERR_USAGE,
                       "--page-password-file: %.200s is open to others; write chmod 600 %.200s", path, path);
    if (length == 0)
        return err_set(err, ERR_USAGE,
                       "--page-password-file: %.200s is empty; write a password into its first line", path);
    return ended ||
           err_set(err, ERR_USAGE, "--page-password-file: the password in %.200s is over %d bytes long", path,
                   PASSWORD_MOST);
}

bool same_secret(const char *given, const char *secret) {
    size_t length = strlen(secret), own = strlen(given);
    unsigned char apart = own != length;
    for (size_t i = 0; i < length; i++) apart |= (unsigned char)(secret[i] ^ given[i < own ? i : own]);
    return apart == 0;
}

/* --- the names --- */

static void add_name(Server *server, const char *name) {
    if (server->name_count == NAMES_MAX || *name == 0 || strlen(name) > 250) return;
    char *to = server->names[server->name_count++];
    size_t length = 0;
    for (; name[length]; length++) {
        char c = name[length];
        to[length] = (char)(c >= 'A' && c <= 'Z' ? c + 32 : c);
    }
    to[length] = 0;
}

/* What the network calls this machine: its name, the first word of it, and that with ".local". */
static void add_host_name(Server *server) {
    char name[256] = "";
    if (gethostname(name, sizeof name - 1) != 0 || strlen(name) > 200) return;
    add_name(server, name);
    char local[256 + 8];
    name[strcspn(name, ".")] = 0;
    add_name(server, name);
    (void)snprintf(local, sizeof local, "%s.local", name);
    if (*name) add_name(server, local);
}

static bool fill_names(Server *server, Err *err) {
    const PagePlan *plan = server->plan;
    add_name(server, "localhost");
    add_host_name(server);
    for (int i = 0; i < plan->host_count; i++) {
        const char *name = plan->hosts[i];
        static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-._";
        if (name[0] == 0 || name[strspn(name, letters)] != 0 || strlen(name) > 250)
            return err_set(err, ERR_USAGE,
                           "--page-host: \"%.60s\" is no name of a computer; write for example --page-host "
                           "candy.example",
                           name);
        add_name(server, name);
    }
    return true;
}

/* Is it the address at which the client came in? Whatever others make their names point to, a page of theirs
 * does not know it as its own. */
static bool is_own_address(int socket, const char *host) {
    Place here = {0}, there = {0};
    socklen_t size = sizeof here;
    if (!place_parse(host, 0, &there) || getsockname(socket, &here.any, &size) != 0) return false;
    if (here.any.sa_family == AF_INET6 && IN6_IS_ADDR_V4MAPPED(&here.v6.sin6_addr)) {
        return there.any.sa_family == AF_INET &&
               memcmp(&here.v6.sin6_addr.s6_addr[12], &there.v4.sin_addr, sizeof there.v4.sin_addr) == 0;
    }
    if (here.any.sa_family != there.any.sa_family) return false;
    if (here.any.sa_family == AF_INET6)
        return memcmp(&here.v6.sin6_addr, &there.v6.sin6_addr, sizeof here.v6.sin6_addr) == 0;
    return here.v4.sin_addr.s_addr == there.v4.sin_addr.s_addr;
}

bool host_is_ours(const Server *server, int socket, const char *host) {
    char name[256];
    const char *from = host[0] == '[' ? host + 1 : host;
    const char *end = host[0] == '[' ? strchr(host, ']') : host + strcspn(host, ":");
    if (!end || end - from >= (long)sizeof name || end == from) return false;
    const char *port = *end == ']' ? end + 1 : end;
    long number;
    if (*port && (*port != ':' || !whole_parse(port + 1, 1, 65535, &number))) return false;
    memcpy(name, from, (size_t)(end - from));
    name[end - from] = 0;
    for (int i = 0; i < server->name_count; i++)
        if (host[0] != '[' && strcasecmp(name, server->names[i]) == 0) return true;
    return is_own_address(socket, name);
}

/* --- the socket --- */

static bool not_bound(const char *at, int cause, Err *err) {
    if (cause == EADDRINUSE)
        return err_set(err, ERR_SYSTEM,
                       "--page: %.60s is in use by another program; end that one, or choose another "
                       "port",
                       at);
    if (cause == EADDRNOTAVAIL)
        return err_set(err, ERR_USAGE, "--page: %.60s is no address of this computer; write one of its own",
                       at);
    if (cause == EACCES)
        return err_set(err, ERR_USAGE, "--page: %.60s is not yours to use; choose a port of 1024 or more",
                       at);
    return err_set(err, ERR_SYSTEM, "--page: %.60s cannot be used (%s)", at, strerror(cause));
}

static bool open_listener(Server *server, const char *at, const Place *place, Err *err) {
    const int one = 1, zero = 0;
    int to = socket(place->any.sa_family, SOCK_STREAM | SOCK_NONBLOCK | SOCK_CLOEXEC, 0);
    if (to < 0) return not_bound(at, errno, err);
    server->listener = to;
    (void)setsockopt(to, SOL_SOCKET, SO_REUSEADDR, &one, sizeof one);
    if (place->any.sa_family == AF_INET6 && is_any(place))
        (void)setsockopt(to, IPPROTO_IPV6, IPV6_V6ONLY, &zero, sizeof zero);
    if (bind(to, &place->any, place_size(place)) != 0 || listen(to, BACKLOG) != 0)
        return not_bound(at, errno, err);
    return true;
}

/* The address as a browser takes it; of all addresses at once the machine's name stands for them. */
static void tell(const Server *server, FILE *out) {
    Place place = {0};
    socklen_t size = sizeof place;
    char text[INET6_ADDRSTRLEN + 2] = "";
    (void)getsockname(server->listener, &place.any, &size);
    bool six = place.any.sa_family == AF_INET6;
    const void *address = six ? (const void *)&place.v6.sin6_addr : (const void *)&place.v4.sin_addr;
    (void)inet_ntop(place.any.sa_family, address, text, sizeof text);
    const char *host = is_any(&place) && server->name_count > 1 ? server->names[1] : text;
    bool brackets = six && host == text;
    fprintf(out, "the page is http://%s%s%s:%u/ (Ctrl-C ends it)\n", brackets ? "[" : "", host,
            brackets ? "]" : "", (unsigned)ntohs(six ? place.v6.sin6_port : place.v4.sin_port));
    if (!is_loopback(&place))
        fputs("it is plain HTTP: for a network you trust, or to be put behind a proxy that speaks TLS\n",
              out);
    (void)fflush(out);
}

bool server_listen(Server *server, Err *err) {
    const PagePlan *plan = server->plan;
    const char *at = plan->at ? plan->at : PAGE_AT;
    Place place = {0};
    if (!read_place(at, &place, err) || !fill_names(server, err)) return false;
    if (!is_loopback(&place) && !plan->password_file)
        return err_set(
            err, ERR_USAGE,
            "--page: others reach %.60s, too; name a file with a password: --page-password-file FILE", at);
    if (plan->password_file && !read_password(plan->password_file, server->password, err)) return false;
    if (!open_listener(server, at, &place, err)) return false;
    tell(server, plan->out);
    return true;
}
