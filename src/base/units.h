/* Public. Numbers and lengths as text: parsed whole, with a range; printed the same everywhere.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_UNITS_H
#define LOGOCANE_UNITS_H

#include <stdbool.h>
#include <stddef.h>

typedef enum Units { UNITS_MM, UNITS_IN } Units;

#define MM_PER_IN 25.4
#define M_PER_FT 0.3048
#define G_PER_OZ 28.349523125
#define G_PER_LB 453.59237

/* The whole of text as a finite decimal number ("12abc", "", "nan", " 3" and hex are refused) inside [low,
 * high]. False leaves *out untouched. Reads '.' whatever the locale. */
bool number_parse(const char *text, double low, double high, double *out);

/* The same for a whole number; digits may be grouped by ',' or '_' or spaces: "5,000". */
bool whole_parse(const char *text, long low, long high, long *out);

/* A length: "16", "16mm", "1.6cm", "0.6in", "5/8in", "1 1/2in" -> mm. A bare number is in `bare`. */
bool length_parse(const char *text, Units bare, double low_mm, double high_mm, double *mm);

/* A piece: "16x14mm", "5/8x1/2in", "16x14", "16mmx14mm": diameter x length -> mm. The last unit holds for
 * both unless the first has its own. */
bool piece_parse(const char *text, double *diameter_mm, double *length_mm);

/* A mass: "5kg", "800g", "12 lb", "8oz" -> grams. A bare number is kg. */
bool mass_parse(const char *text, double low_g, double high_g, double *g);

/* A temperature: "149", "149 C", "149 °C", "300 F" -> Celsius, to a millionth. A bare number is Celsius. */
bool temperature_parse(const char *text, double low_c, double high_c, double *c);

/* Whole degrees, both scales, the spoken one first: "149 °C (300 °F)". */
void temperature_print(char *out, size_t size, double c, Units units);

/* A length as a person reads it: "16 mm", "15.9 mm" (one decimal, ".0" left out), or "5/8 in" / "0.63 in". */
void length_print(char *out, size_t size, double mm, Units units);

/* That of a stroke or gap at the piece, to a hundredth of a mm or a thousandth of an inch: "0.54 mm", "0.021
 * in". */
void stroke_print(char *out, size_t size, double mm, Units units);

/* The length to which hands form or cut: whole millimetres, or 32nds of an inch where inches are spoken. */
double length_by_hand(double mm, Units units);

/* That length as text: "308 mm", "12 1/8 in". */
void hand_print(char *out, size_t size, double mm, Units units);

/* Two lengths, the unit once: "16 x 14 mm". */
void size_print(char *out, size_t size, double one_mm, double other_mm, Units units);

/* The same of a section that hands form: tenths of a millimetre, or 32nds of an inch, one at least: "19/32 x
 * 1/4 in". With decimals in front if `both` and inches are spoken: "0.59 x 0.24 in (19/32 x 1/4)". */
void section_print(char *out, size_t size, double one_mm, double other_mm, Units units, bool both);

/* A length with the nearest 32nd of an inch behind what is none: "4.53 in (4 17/32)". */
void length_print_both(char *out, size_t size, double mm, Units units);

/* A long length: "15.9 m", "52.2 ft". */
void distance_print(char *out, size_t size, double m, Units units);

/* A time: "48 s", "84 min". */
void minutes_print(char *out, size_t size, double seconds);

/* A mass as a scale shows it: grams, from 1 kg on kilograms; or ounces, from 1 lb on pounds. */
void mass_print(char *out, size_t size, double g, Units units);

#endif
