/* Heat that a lying cylinder loses to still air. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_HEAT_LOSS_H
#define LOGOCANE_HEAT_LOSS_H

/* Watts per square metre and degree between the surface and the room, by free convection (Churchill & Chu,
 * Int. J. Heat Mass Transfer 18 (1975) 1049: a horizontal cylinder, laminar and turbulent) and radiation to
 * walls as warm as the air (emissivity 0.9, of most non-metals). Surface and room 0..120 C, the surface at
 * least as warm as the room; a diameter over 0. Formula and the properties of air from memory of the usual
 * textbooks. */
double heat_loss_w_m2k(double diameter_m, double surface_c, double room_c);

#endif
