/* Building blocks of job.html. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_HTML_OUT_H
#define LOGOCANE_WRITE_HTML_OUT_H

#include "model/job.h"

#include <stdio.h>

/* Prints text, cleaned, so that it is text wherever it stands: & < > " ' escaped. */
void html_text(const char *text, FILE *file);

/* Prints <tag>text</tag>. */
void html_element(const char *tag, const char *text, FILE *file);

/* Likewise, unless the text is "". */
void html_note(const char *tag, const char *text, FILE *file);

/* "0.1234", without a locale. */
void html_number(double value, FILE *file);

/* Opens and ends a section; the heading is a constant string. */
void html_section(const char *heading, FILE *file);
void html_section_end(FILE *file);

/* Prints the style of the page, as the content of its <style>. */
void html_style(FILE *file);

/* Prints the pictures: the logo and the finished piece side by side, the places marked on both, with their
 * words; the piece at true size beside a rule. Fails with ERR_MEMORY. */
bool html_pictures(const Job *job, FILE *file, Err *err) MUST_CHECK;

#endif
