/* Building blocks of job.html: text and elements. SPDX-License-Identifier: MIT */
#include "write/html_out.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

void html_text(const char *text, FILE *file) {
    static const char *const named[] = {
        ['&'] = "&amp;", ['<'] = "&lt;", ['>'] = "&gt;", ['"'] = "&quot;", ['\''] = "&#39;"};
    char clean[2048];
    text_clean(clean, sizeof clean, text);
    for (const char *c = clean; *c; c++) {
        const unsigned char byte = (unsigned char)*c;
        if (byte < sizeof named / sizeof *named && named[byte])
            fputs(named[byte], file);
        else
            fputc(*c, file);
    }
}

void html_element(const char *tag, const char *text, FILE *file) {
    fprintf(file, "<%s>", tag);
    html_text(text, file);
    fprintf(file, "</%s>\n", tag);
}

void html_note(const char *tag, const char *text, FILE *file) {
    if (text[0]) html_element(tag, text, file);
}

void html_number(double value, FILE *file) {
    char text[64];
    (void)snprintf(text, sizeof text, "%.2f", round(value * 100) / 100 + 0.0);
    for (size_t end = strlen(text) - 1; text[end] == '0'; end--) text[end] = 0;
    const size_t end = strlen(text) - 1;
    if (text[end] == '.') text[end] = 0;
    fputs(text, file);
}

void html_section(const char *heading, FILE *file) {
    fprintf(file, "<section>\n<h2>%s</h2>\n", heading);
}

void html_section_end(FILE *file) {
    fputs("</section>\n", file);
}
