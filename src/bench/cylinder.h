/* How long a cylinder takes to cool. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CYLINDER_H
#define LOGOCANE_CYLINDER_H

typedef struct Cylinder {
    double radius_m;          /* over 0 */
    double conductivity_w_mk; /* over 0 */
    double capacity_j_m3k;    /* density * specific heat, over 0 */
    double start_c;           /* as warm all through */
    double room_c;            /* under start_c */
    double transfer_w_m2k;    /* at the surface, over 0; 0 = by free convection and radiation */
} Cylinder;

/* Seconds until the middle of a long cylinder, as warm all through at first, has fallen to `middle_c`,
 * between room_c and start_c (both excluded): one-dimensional conduction, heat lost at the surface only.
 * Within 1 % of the exact solution as long as the middle has 2 % of its way to the room behind it and 2 %
 * before it. */
double cylinder_seconds(const Cylinder *cylinder, double middle_c);

/* Watts per square metre and degree between the surface and the room, by free convection (Churchill & Chu,
 * Int. J. Heat Mass Transfer 18 (1975) 1049: a horizontal cylinder, laminar and turbulent) and radiation to
 * walls as warm as the air (emissivity 0.9, of most non-metals). Surface and room 0..120 C, the surface at
 * least as warm as the room; a diameter over 0. Formula and the properties of air from memory of the usual
 * textbooks. */
double heat_loss_w_m2k(double diameter_m, double surface_c, double room_c);

#endif
