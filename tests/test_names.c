/* Hostile names from the command line to every file, and what the client's file says of itself. The program
 * is run as a child. SPDX-License-Identifier: MIT */
#include "child.h"
#include "png_files.h"
#include "base/text.h"

#include <cJSON.h>
#include <fcntl.h>
#include <glob.h>
#include <zlib.h>

/* A folder of the test's own, with a shop whose ropes are so thick that a lay-up takes no time. */
typedef struct Place {
    char folder[PATH_ROOM];
    char program[PATH_ROOM];
} Place;

static const char shop[] = "[limits]\nleast_strip = 20 mm\n"
                           "[stock]\nonly_named = yes\n"
                           "[candy =1-1]\ncolour = #EEFF22\n"
                           "[candy @SUM(A1)]\ncolour = #2266FF\n"
                           "[candy -2 \"red\"]\ncolour = #C8202C\n"
                           "[candy = <b>&lt\\]\ncolour = #101010\n"
                           "[candy caf\xc3\xa9 \xe6\xb5\xb7]\ncolour = #20A040\n";

static void save(const Place *place, const char *name, const void *bytes, size_t size) {
    int folder = open(place->folder, O_DIRECTORY);
    int fd = openat(folder, name, O_CREAT | O_WRONLY | O_TRUNC, 0600);
    assert_true(fd >= 0 && write(fd, bytes, size) == (ssize_t)size);
    close(fd), close(folder);
}

static Place place_begin(void) {
    Place place;
    path_here(place.program, "logocane");
    path_here(place.folder, "names-XXXXXX");
    assert_non_null(mkdtemp(place.folder));
    save(&place, "shop.ini", shop, sizeof shop - 1);
    return place;
}

static void place_end(const Place *place) {
    Ran ran = run_child(NULL, (const char *[]){"rm", "-r", place->folder, NULL});
    assert_int_equal(ran.status, 0);
    ran_free(&ran);
}

/* Only what may stand in a text: valid UTF-8, and no character that steers but line ends, and tabs where JSON
 * is. */
static void check_text(const char *what, const char *text) {
    char *copy = strdup(text);
    assert_non_null(copy);
    for (char *c = copy; *c; c++)
        if (*c == '\n' || *c == '\f' || (*c == '\r' && c[1] == '\n') || (*c == '\t' && text[0] == '{'))
            *c = ' ';
    if (!text_valid(copy)) fail_msg("%s holds what no text may hold: %s", what, text);
    free(copy);
}

/* One line, about the program's business, and the status of bad usage or input. */
static void check_refusal(const char *what, const Ran *ran) {
    if (ran->status != 2) fail_msg("%s: status %d, \"%s\"", what, ran->status, ran->said);
    check_text(what, ran->said);
    assert_int_equal(strncmp(ran->said, "logocane: ", 10), 0);
    assert_ptr_equal(strchr(ran->said, '\n'), ran->said + strlen(ran->said) - 1);
    assert_string_equal(ran->out, "");
}

enum { NAME_ROOM = 256 };

static const char *const hostile[] = {
    "two words",
    "line\nbreak\r\n",
    "tab\tbell\a",
    "quotes \"'`\\",
    "-x",
    "--force",
    "--",
    "$(touch got-in); `touch got-in` | touch got-in",
    "%s%n%99999d",
    "no UTF-8 \xff\xfe\xc0\xaf\xed\xa0\x80",
    "escape \x1b[31m\x1b]0;title\x07",
    "C1 \xc2\x9b!31m",
    "turned \xe2\x80\xae!gnp.exe \xe2\x81\xa6\xd8\x9c",
    "\xef\xbb\xbfmark",
    "noncharacters \xef\xb7\x90 \xef\xbf\xbe \xf0\x9f\xbf\xbe",
    "=1+1",
    "+1",
    "@SUM(A1)",
    " space ",
    "caf\xc3\xa9 \xe6\xb5\xb7 \xf0\x9f\x9a\xb2",
    "\xe2\x80\xa8line\xe2\x80\xa9paragraph",
    ".hidden",
    "{\"a\":[1,2]}",
    "<b>&amp;<i>",
    "the longest", /* made 255 bytes long below */
};
enum { HOSTILE = sizeof hostile / sizeof *hostile };

static void file_name(int i, char out[NAME_ROOM]) {
    (void)snprintf(out, NAME_ROOM, "%s.png", hostile[i]);
    if (i < HOSTILE - 1) return;
    memset(out, 'n', NAME_ROOM - 5);
    memcpy(out + NAME_ROOM - 5, ".png", 5);
}

static void check_json(const char *text, const char *file) {
    cJSON *root = cJSON_ParseWithOpts(text, NULL, true);
    assert_non_null(root);
    assert_string_equal(cJSON_GetObjectItem(cJSON_GetObjectItem(root, "logo"), "file")->valuestring, file);
    const char *name = cJSON_GetObjectItem(root, "name")->valuestring;
    assert_int_equal(strlen(name), strlen(file) - 4);
    assert_int_equal(strncmp(name, file, strlen(name)), 0);
    cJSON_Delete(root);
}

/* A square of one colour: judged at once. */
static Bytes plain_png(void) {
    static const uint8_t header[13] = {0, 0, 0, 8, 0, 0, 0, 8, 1}, rows[16];
    uint8_t packed[64];
    uLong size = sizeof packed;
    Bytes b = {0};
    assert_int_equal(compress2(packed, &size, rows, sizeof rows, 1), Z_OK);
    put(&b, "\x89PNG\r\n\x1a\n", 8);
    put_chunk(&b, "IHDR", header, sizeof header);
    put_chunk(&b, "IDAT", packed, size);
    put_chunk(&b, "IEND", NULL, 0);
    return b;
}

static void a_logo_may_have_any_name(void **state) {
    (void)state;
    Place place = place_begin();
    Bytes png = plain_png();
    for (int i = 0; i < HOSTILE; i++) {
        char name[NAME_ROOM], clean[NAME_ROOM];
        file_name(i, name);
        text_clean(clean, sizeof clean, name);
        save(&place, name, png.bytes, png.size);
        for (int json = 0; json < 2; json++) {
            Ran ran =
                run_child(place.folder, (const char *[]){place.program, "--shop", "shop.ini",
                                                         json ? "--json" : "--no-fine", "--", name, NULL});
            if (ran.status > 1) fail_msg("%s: status %d, \"%s\"", clean, ran.status, ran.said);
            assert_string_equal(ran.said, "");
            check_text(clean, ran.out);
            if (json) check_json(ran.out, clean);
            if (!json && strlen(clean) < 40) assert_non_null(strstr(ran.out, clean));
            ran_free(&ran);
        }
    }
    free(png.bytes);
    char got_in[PATH_ROOM + 8];
    (void)snprintf(got_in, sizeof got_in, "%s/got-in", place.folder);
    assert_int_not_equal(access(got_in, F_OK), 0);
    place_end(&place);
}

/* Where a name is refused, the message is fit for a terminal. */
static void a_name_that_leads_nowhere_is_said_safely(void **state) {
    (void)state;
    Place place = place_begin();
    for (int i = 0; i < HOSTILE; i++) {
        char name[NAME_ROOM], deep[NAME_ROOM + 8], unlike[NAME_ROOM + 16];
        file_name(i, name);
        (void)snprintf(deep, sizeof deep, "no/%s", name);
        (void)snprintf(unlike, sizeof unlike, "#123456=%s", name);
        const char *const tries[][5] = {{"--", deep},          {"--shop", deep, "x.png"},
                                        {"-o", deep, "x.png"}, {"--jacket", name, "x.png"},
                                        {"-f", name, "x.png"}, {"-m", unlike, "x.png"},
                                        {"-p", name, "x.png"}, {"--sweep", name, "x.png"},
                                        {"-n", name, "x.png"}, {"--detail", name, "x.png"}};
        for (size_t k = 0; k < sizeof tries / sizeof *tries; k++) {
            if ((i + (int)k) % 3) continue; /* the rest tells nothing more */
            const char *argv[8] = {place.program};
            memcpy(argv + 1, tries[k], sizeof tries[k]);
            Ran ran = run_child(place.folder, argv);
            check_refusal(tries[k][0], &ran);
            ran_free(&ran);
        }
    }
    place_end(&place);
}

/* --- a whole job --- */

static const char marker[] = "SECRET-OF-THE-CLIENT";

/* All that a PNG can say of itself says the marker. */
static Bytes marked_png(void) {
    Bytes b = file_holds("tests/pngsuite/basn3p01.png"), chunk = {0};
    uint8_t packed[256];
    uLong size = sizeof packed;
    assert_int_equal(compress2(packed, &size, (const Bytef *)marker, sizeof marker - 1, 0),
                     Z_OK); /* stored */
    static const char *const start[] = {"Author\0", "Author\0\0", "Author\0\0\0\0\0", "",
                                        "SECRET-OF-THE-CLIENT\0\0"};
    static const size_t start_size[] = {7, 8, 11, 0, sizeof marker + 1};
    static const char *const types[] = {"tEXt", "zTXt", "iTXt", "eXIf", "iCCP"};
    for (int i = 0; i < 5; i++) {
        bool packs = i == 1 || i == 4;
        chunk.size = 0;
        put(&chunk, start[i], start_size[i]);
        put(&chunk, packs ? (const void *)packed : marker, packs ? size : sizeof marker - 1);
        insert_chunk(&b, types[i], chunk.bytes, chunk.size);
    }
    free(chunk.bytes);
    return b;
}

/* The cell at *text; steps behind it and its comma or line end, which is returned. */
static char next_cell(const char **text, char *out) {
    const char *c = *text;
    bool quoted = *c == '"';
    for (c += quoted; *c && (quoted ? *c != '"' || c[1] == '"' : !strchr(",\r", *c)); c++) {
        *out++ = *c;
        c += quoted && *c == '"';
    }
    *out = 0;
    c += quoted;
    char end = *c;
    assert_true(end == ',' || (end == '\r' && c[1] == '\n'));
    *text = c + (end == ',' ? 1 : 2);
    return end;
}

/* Every row has the header's cells; none starts a formula, but a number below 0; candies are there as the
 * shop names them. */
static void check_csv(const char *text) {
    char cell[1024], wanted[1024];
    int columns = 0, candy = -1;
    for (bool more = true; more; columns++) {
        more = next_cell(&text, cell) == ',';
        if (strcmp(cell, "candy") == 0) candy = columns;
    }
    while (*text)
        for (int i = 0; i < columns; i++) {
            assert_int_equal(next_cell(&text, cell), i + 1 < columns ? ',' : '\r');
            bool number = cell[0] == '-' && strspn(cell + 1, "0123456789.") == strlen(cell + 1);
            assert_true(number || !cell[0] || !strchr("=+-@\t", cell[0]));
            (void)snprintf(wanted, sizeof wanted, "[candy %s]", cell + (cell[0] == '\''));
            if (i == candy) assert_non_null(strstr(shop, wanted));
        }
}

/* A PNG of ours holds what makes it a picture, and nothing else. */
static void check_png(const Bytes *b) {
    for (size_t at = 8; at < b->size; at += 12 + png_32(b->bytes + at)) {
        static const char *const types[] = {"IHDR", "sRGB", "pHYs", "IDAT", "IEND"};
        bool ours = false;
        for (int i = 0; i < 5; i++) ours = ours || memcmp(b->bytes + at + 4, types[i], 4) == 0;
        assert_true(ours);
    }
}

static void check_file(const char *path) {
    Bytes b = file_holds(path);
    put_8(&b, 0), b.size--;
    if (memmem(b.bytes, b.size, marker, sizeof marker - 1)) fail_msg("%s gives it away", path);
    const char *ending = strrchr(path, '.');
    if (strcmp(ending, ".png") == 0) check_png(&b);
    if (strcmp(ending, ".csv") == 0) check_csv((const char *)b.bytes);
    if (strstr(".csv.txt.json.html", ending)) check_text(path, (const char *)b.bytes);
    free(b.bytes);
}

/* What the PDF says, its own data included. */
static void check_pdf(const char *path, const char *name) {
    static const char *const tools[][3] = {{"pdftotext", "-layout", "-"}, {"pdfinfo", NULL, NULL}};
    for (int i = 0; i < 2; i++) {
        Ran ran = run_child(NULL, i ? (const char *[]){"pdfinfo", path, NULL}
                                    : (const char *[]){tools[i][0], tools[i][1], path, tools[i][2], NULL});
        assert_int_equal(ran.status, 0);
        check_text(tools[i][0], ran.out);
        assert_null(strstr(ran.out, marker));
        assert_non_null(strstr(ran.out, name));
        assert_null(strstr(ran.out, "CreationDate"));
        if (i == 0) assert_true(strstr(ran.out, "=1-1") && strstr(ran.out, "caf\xc3\xa9"));
        ran_free(&ran);
    }
}

static void no_name_and_no_word_of_the_client_gets_into_the_files(void **state) {
    (void)state;
    Place place = place_begin();
    Bytes png = marked_png();
    char pattern[PATH_ROOM + 16];
    save(&place, "-\x1b[2J\n=x\xff.png", png.bytes, png.size);
    free(png.bytes);
    Ran ran = run_child(place.folder, (const char *[]){place.program, "-q", "--shop", "shop.ini", "-o", "job",
                                                       "-f", "=1-1", "-j", "caf\xc3\xa9,-2", "-n", "200",
                                                       "--", "-\x1b[2J\n=x\xff.png", NULL});
    if (ran.status > 1) fail_msg("status %d, \"%s\"", ran.status, ran.said);
    ran_free(&ran);
    glob_t found;
    (void)snprintf(pattern, sizeof pattern, "%s/job/*", place.folder);
    assert_int_equal(glob(pattern, 0, NULL, &found), 0);
    assert_true(found.gl_pathc >= 11);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        check_file(found.gl_pathv[i]);
        if (strstr(found.gl_pathv[i], ".pdf")) check_pdf(found.gl_pathv[i], "-?[2J?=x?");
    }
    globfree(&found);
    place_end(&place);
}

static void a_jpeg_is_its_pixels_and_no_more(void **state) {
    (void)state;
    static const char *const segments[] = {"\xff\xfe\0\x16", "\xff\xe1\0\x16", "\xff\xe2\0\x16",
                                           "\xff\xed\0\x16"};
    Bytes plain = file_holds("samples/beach-huts.jpg"), marked = file_holds("samples/beach-huts.jpg");
    for (int i = 0; i < 4; i++) {
        insert(&marked, 2, marker, sizeof marker - 1);
        insert(&marked, 2, segments[i], 4);
    }
    Picture a = decode_good(&plain), b = decode_good(&marked);
    assert_int_equal(a.width, b.width);
    assert_int_equal(a.height, b.height);
    assert_memory_equal(a.rgba, b.rgba, (size_t)a.width * (size_t)a.height * 4);
    picture_free(&a), picture_free(&b);
    free(plain.bytes), free(marked.bytes);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_logo_may_have_any_name),
        cmocka_unit_test(a_name_that_leads_nowhere_is_said_safely),
        cmocka_unit_test(no_name_and_no_word_of_the_client_gets_into_the_files),
        cmocka_unit_test(a_jpeg_is_its_pixels_and_no_more),
    };
    return cmocka_run_group_tests_name("names", tests, NULL, NULL);
}
