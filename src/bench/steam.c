/* Water that boils. SPDX-License-Identifier: MIT */
#include "bench/steam.h"

#include <math.h>

double air_pressure_kpa(double altitude_m) {
    return 101.325 * pow(1 - 2.25577e-5 * altitude_m, 5.25588);
}

double steam_pressure_kpa(double celsius) {
    const double critical_k = 647.096, critical_kpa = 22064;
    double kelvin = celsius + 273.15, t = 1 - kelvin / critical_k;
    double sum = -7.85951783 * t + 1.84408259 * pow(t, 1.5) - 11.7866497 * pow(t, 3) +
                 22.6807411 * pow(t, 3.5) - 15.9618719 * pow(t, 4) + 1.80122502 * pow(t, 7.5);
    return critical_kpa * exp(critical_k / kelvin * sum);
}

/* The curve rises everywhere: halving, as often as doubles can be told apart. */
double water_boils_c(double pressure_kpa) {
    double low = 0, high = 373;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;
        if (steam_pressure_kpa(middle) < pressure_kpa)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}
