/* Water that boils: air pressure at a height, steam pressure at a temperature. SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_STEAM_H
#define LOGOCANE_STEAM_H

/* The pressure of the standard atmosphere, kPa, at so many metres above the sea, -1000..11 000.
 * ISO 2533 = US Standard Atmosphere 1976; its constants from memory. The weather moves it by 3 %, boiling by
 * 1 degree. */
double air_pressure_kpa(double altitude_m);

/* The pressure at which water boils at so many degrees Celsius, kPa, 0..373: IAPWS SR1-86 (Wagner & Pruss, J.
 * Phys. Chem. Ref. Data 22 (1993) 783; coefficients as in our notes, their reading not checked against the
 * print). */
double steam_pressure_kpa(double celsius);

/* The temperature at which water boils under that pressure, Celsius, 1..10 000 kPa: the inverse of the last.
 */
double water_boils_c(double pressure_kpa);

#endif
