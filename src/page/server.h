/* The server's own state, and what its parts offer each other. SPDX-License-Identifier: MIT
 *
 * One thread. libmicrohttpd reads and writes, and calls handle; a question is written to a file in memory as
 * it comes, waits for its turn, is answered by a child, whose answer goes to a second file in memory, and
 * from there to the client. So neither a slow client nor a slow child holds the other up. */
#ifndef LOGOCANE_PAGE_SERVER_H
#define LOGOCANE_PAGE_SERVER_H

#include "page/page.h"

#include <microhttpd.h>
#include <signal.h>
#include <stdint.h>
#include <sys/types.h>

enum {
    BODY_MOST = 40 << 20,   /* bytes of a question */
    ANSWER_MOST = 64 << 20, /* bytes of an answer */
    HELD_MOST = 200 << 20,  /* bytes of all that waits, questions and answers */
    FIELDS_MAX = 120,       /* of a form */
    FORM_TEXT = 32 << 10,   /* bytes of their names and values */
    TOKEN_TEXT = 33,        /* 128 bits in hexadecimal */
    PASSWORD_MOST = 200,    /* bytes */
    NAMES_MAX = 24,         /* of this machine */
    HANDED_MAX = 4          /* pictures that wait to be fetched */
};

/* --- form: a question as it comes --- */

typedef struct Form {
    char text[FORM_TEXT]; /* names and values, each closed by 0 */
    size_t used;          /* of text */
    PageField field[FIELDS_MAX];
    int fields;
    int logo;            /* the picture, a file in memory; -1 = none yet; owned */
    size_t logo_size;    /* bytes */
    uint64_t logo_mark;  /* FNV-1a of them */
    char logo_name[256]; /* clean, without folders */
    bool in_logo;        /* what comes is the picture's */
    int status;          /* 0 = good so far; else what to answer */
    const char *line;    /* and why; static */
} Form;

/* Takes a piece of a part; libmicrohttpd's MHD_PostDataIterator with a Form. What is wrong stays in the form,
 * and the rest is passed over. */
enum MHD_Result form_take(void *form, enum MHD_ValueKind kind, const char *key, const char *file,
                          const char *type, const char *encoding, const char *data, uint64_t at, size_t size);

void form_wrong(Form *form, int status, const char *line); /* the first that is wrong stays */

/* A new file in memory; -1 if there is no room. */
int memory_file(void);

/* Writes it all; false if there is no room. */
bool write_all(int at, const char *bytes, size_t size);

/* --- question: from its head to the last byte of its answer --- */

typedef enum Stage {
    COMING,  /* its body is read */
    WAITING, /* for a child */
    RUNNING, /* a child answers */
    KEEPING, /* a child writes the folder */
    ENDED    /* no child is left */
} Stage;

typedef struct Question {
    struct Question *next; /* in the order they came */
    struct MHD_Connection *connection;
    int socket; /* the client's */
    PageQuestion question;
    Stage stage;
    struct MHD_PostProcessor *reader; /* of its body; owned */
    size_t held;                      /* bytes counted in Server.held */
    bool suspended;                   /* libmicrohttpd leaves the connection alone */
    bool left;                        /* the client has gone */
    Form form;
    int spool;      /* the answer, head and all, a file in memory; -1 = none; owned */
    size_t written; /* bytes of it */
    size_t body;    /* where it begins behind the head; 0: the head is not there yet */
    int status;     /* of the head */
    PageKind kind;  /* likewise */
    char name[PAGE_NAME];
    bool refused; /* the child's answer was not as it must be, or too long */
    bool good;    /* the child ended well; else `line` says how */
    char line[200];
} Question;

/* --- child: the processes that answer --- */

typedef struct Child {
    pid_t pid;          /* 0: the place is free */
    int pipe;           /* its answers; -1 once they are read to their end; owned */
    Question *question; /* NULL: the client has left, or it rests */
    bool keeper;        /* writes a folder, and is not to be killed amid that */
    int64_t until;      /* ms, then it is killed; while it rests, ended */
    bool late;          /* it was */
    PageQuestion kind;  /* of what it answers */
    int asks;           /* the socket to one that stays with its picture; -1: it does not; owned */
    bool rests;         /* it waits to be asked again */
    bool again;         /* it was asked again */
    int64_t used;       /* ms of the processor's time when it began to rest */
    int logo;           /* the picture, a file in memory; -1 = none; owned, as what follows tells of it */
    size_t logo_size;
    uint64_t logo_mark;
} Child;

enum { CHILDREN_MAX = 64, STAY_SOCKET = 3, BIRTH_FILES = 3 };

/* A connection, whatever goes on in it. */
typedef struct Visit {
    struct Visit *next;
    int socket;
    int64_t until; /* ms: then it is closed; 0 = it may stay */
    int64_t idle;  /* ms: since when nothing is asked by it; 0 = something is */
    int64_t slow;  /* ms: since when its client sends or takes; 0 = it does neither */
    bool shut;     /* it was closed: libmicrohttpd is about to see that */
} Visit;

/* A picture that the page may fetch, once. */
typedef struct Handed {
    char id[TOKEN_TEXT]; /* "" = the place is free */
    int logo;            /* a file in memory; -1 = none; owned */
    size_t size;         /* bytes, counted in Server.held */
    char name[256];      /* clean, without folders */
    uint64_t number;     /* in the order they came */
    int64_t until;       /* ms, then it is dropped */
} Handed;

typedef struct Server {
    const PagePlan *plan; /* not owned */
    struct MHD_Daemon *daemon;
    int listener;
    pid_t pid;   /* the server's own */
    int signals; /* descriptor of those that come */
    int nursery; /* the socket to it */
    pid_t nursery_pid;
    sigset_t before; /* the mask to go back to, and that of children */
    char token[TOKEN_TEXT];
    char *html; /* page.html with the token in it; owned */
    size_t html_size;
    char password[PASSWORD_MOST + 2]; /* "" = none */
    char names[NAMES_MAX][256];       /* of this machine, in small letters */
    int name_count;
    int children, waiting_most; /* limits: of those that work, of questions behind them */
    int places;                 /* for children: as many may rest */
    Question *first;            /* all of them */
    Child child[CHILDREN_MAX];  /* [places] */
    Handed handed[HANDED_MAX];
    uint64_t handed_ever;
    Visit *visits;
    bool run_again; /* libmicrohttpd has more to do than it says: one left, or is answered at once */
    size_t held;    /* bytes of questions and answers */
    bool stopping;
    char seen; /* its place marks a request without a body whose head was seen: of it no more is kept, and
                  only at its end it is answered, since libmicrohttpd closes connections answered before */
} Server;

int64_t now_ms(void);

/* Frees what a question holds and takes it out of the list; a child that works on it is ended. */
void question_free(Server *server, Question *question);

/* Wakes the connection, if it sleeps. */
void question_wake(Question *question);

/* Gives each question that waits a child while there are places. */
void children_start(Server *server);

/* How many more may work. */
int children_free(const Server *server);

/* Reads some of what the child has written. */
void child_read(Server *server, Child *child);

/* Takes note of those that ended. */
void children_reap(Server *server);

/* Ends those that are late; the time of the next that will be (0: none). */
int64_t children_late(Server *server, int64_t now);

/* Ends all: keepers are asked to, and waited for until `until`. */
void children_end(Server *server, int64_t until);

/* How long an answer may take. */
int seconds_of(const PagePlan *plan, PageQuestion question);

/* In the child: answers, or keeps a folder, and ends. file: what it reads (the picture, the answer to be
 * kept), what it writes to, the socket by which it is asked again (-1: it is not). */
_Noreturn void child_work(const Server *server, Question *question, bool keeper, const int file[BIRTH_FILES]);

/* --- nursery: where children come from --- */

/* Before anything has come, and before there are secrets: false if the system has no room. */
bool nursery_begin(Server *server);

/* A child of the server's for the question, with these files; -1 if the system has no room. */
pid_t nursery_child(Server *server, const Question *question, bool keeper, const int file[BIRTH_FILES]);

void nursery_end(Server *server);

/* --- stay: children that are asked again --- */

/* In the child: answers, and goes on with what else is asked of it until nothing is. False if it could not.
 */
bool stay_and_answer(const PagePlan *plan, PageAsk ask, FILE *file);

/* Both ends: the server's and the child's; false, and both -1, if there is no room. */
bool stay_socket(int out[2]);

/* Nobody may change it from now on; false if the system cannot. */
bool seal_picture(int logo);

/* The child stays with the question's picture. */
void stay_with(Child *child, const Question *question, int asks);

/* One that rests with the question's picture; NULL if there is none. *soon: one has been told to stop, and
 * will rest in a moment. */
Child *stay_find(Server *server, const Question *question, bool *soon);

bool stay_ask(Child *child, const Question *question); /* false: it cannot be asked */
void stay_stop(Child *child);                          /* its client has left */
void stay_end(Child *child);                           /* it is not asked any more */
void stay_told(Server *server, Child *child);          /* reads what it says */
void stay_distrust(Child *child);                      /* it did what no child does: it is killed */
bool stay_is_busy(const Child *child);                 /* it rests, and works all the same */

/* --- shut_in: what is left to a child --- */

/* Gives up, for the process and for good, all but computing, its standard input and output, and, with
 * `fonts`, reading fonts, which are loaded first. False where the system would not do what it offers. */
bool shut_in(bool fonts, int seconds) MUST_CHECK;

/* --- keep: a folder from a child's answer --- */

/* The files in `spool` from `at` on become the folder `name` in plan->dir, by folder.h; prints the answer. */
bool keep_folder(const PagePlan *plan, const char *name, bool force, int spool, size_t at, FILE *file);

/* --- listen: where the page is, and who may come --- */

/* Opens the listening socket and says where; names of this machine, the password. Fails as page_serve does.
 */
bool server_listen(Server *server, Err *err) MUST_CHECK;

/* Is the Host header one of this machine's, as reached by the socket? */
bool host_is_ours(const Server *server, int socket, const char *host);

/* Are the texts the same? In a time that does not tell where they differ. */
bool same_secret(const char *given, const char *secret);

/* --- handle, respond: HTTP --- */

/* libmicrohttpd's MHD_AccessHandlerCallback and its kin, with a Server. */
enum MHD_Result handle(void *server, struct MHD_Connection *connection, const char *url, const char *method,
                       const char *version, const char *data, size_t *size, void **state);
void handle_end(void *server, struct MHD_Connection *connection, void **state,
                enum MHD_RequestTerminationCode how);
void handle_visit(void *server, struct MHD_Connection *connection, void **state,
                  enum MHD_ConnectionNotificationCode how);

/* Queue a response; as handle is to return. */
enum MHD_Result respond_bytes(struct MHD_Connection *connection, const char *type, const char *bytes,
                              size_t size);
enum MHD_Result respond_line(struct MHD_Connection *connection, int status, const char *line);
enum MHD_Result respond_login(struct MHD_Connection *connection);
enum MHD_Result respond_answer(Server *server, Question *question);

enum MHD_Result respond_text(struct MHD_Connection *connection, const char *text);

/* Of a file in memory, which becomes libmicrohttpd's; its name goes along, each byte as %XX. */
enum MHD_Result respond_picture(struct MHD_Connection *connection, int file, size_t size, const char *name);

/* 128 random bits as text; false if the system gives none. */
bool secret_new(char out[TOKEN_TEXT]);

/* --- hand: a picture from another program of this computer --- */

/* Keeps the question's picture and answers where it is, "handed/ID", behind the page's own place. */
enum MHD_Result hand_take(Server *server, Question *question);

/* Is the path one of a handed picture? Then *out is what handle is to return. */
bool hand_shown(Server *server, struct MHD_Connection *connection, const char *url, enum MHD_Result *out);

/* Drops those whose time is up; the time of the next (0: none). */
int64_t hand_late(Server *server, int64_t now);
void hand_end(Server *server);

/* --- the page's own files, put into the program by the Makefile --- */

typedef struct PageAsset {
    const char *path, *type;
    const unsigned char *bytes;
    size_t size;
} PageAsset;

extern const PageAsset page_assets[]; /* the HTML first; the last has no path */

#endif
