/* What drawing text needs of the system. SPDX-License-Identifier: MIT */
#include "draw/draw.h"

#include <fontconfig/fontconfig.h>
#include <glib.h>

/* Can it be drawn at any size, and has it letters and digits? */
static bool is_of_use(const FcPattern *font) {
    FcCharSet *characters;
    FcBool scalable;
    return FcPatternGetBool(font, FC_SCALABLE, 0, &scalable) == FcResultMatch && scalable &&
           FcPatternGetCharSet(font, FC_CHARSET, 0, &characters) == FcResultMatch &&
           FcCharSetHasChar(characters, 'A') && FcCharSetHasChar(characters, '0');
}

bool draw_fonts(Err *err) {
    FcConfig *config = FcConfigGetCurrent();
    for (int set = FcSetSystem; config && set <= FcSetApplication; set++) {
        const FcFontSet *fonts = FcConfigGetFonts(config, (FcSetName)set);
        for (int i = 0; fonts && i < fonts->nfont; i++)
            if (is_of_use(fonts->fonts[i])) return true;
    }
    return err_set(err, ERR_SYSTEM,
                   "no fonts are found, so no sheet can be drawn; install some (fonts-dejavu-core)");
}

/* All that is not the end goes the usual way. */
static void on_log(const gchar *domain, GLogLevelFlags level, const gchar *message, gpointer user) {
    const LastCall *last = user;
    if (level & (G_LOG_FLAG_FATAL | G_LOG_LEVEL_ERROR)) last->call(last->user);
    g_log_default_handler(domain, level, message, NULL);
}

void draw_before_end(const LastCall *last) {
    if (last)
        (void)g_log_set_default_handler(on_log, (gpointer)(uintptr_t)last);
    else
        (void)g_log_set_default_handler(g_log_default_handler, NULL);
}
