/* letter.txt: what goes into an e-mail to the client. SPDX-License-Identifier: MIT */
#include "write/files.h"

#include "base/text.h"
#include "say/verdict_words.h"

bool write_letter(const Job *job, FILE *file, Err *err) {
    char words[LETTER_TEXT];
    (void)err;
    LetterPart part, before = LETTER_HEAD;
    for (int row = 0; letter_next(job, &row, &part, words); before = part) {
        if (part != before) fputc('\n', file);
        text_clean(words, sizeof words, words);
        text_fill(file, words, LETTER_COLUMNS);
    }
    return true;
}
