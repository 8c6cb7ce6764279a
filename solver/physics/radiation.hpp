// Heat a surface radiates to what it sees.
#pragma once

#include "solver/physics/heat_flux.hpp"

namespace tuft::elements {

/// Stefan-Boltzmann constant [W/(m2 K4)], 2 pi^5 k^4 / (15 h^3 c^2) of the exact constants of the SI of 2019.
constexpr double stefan_boltzmann = 5.670374419e-8;

/// Net flux of a grey surface of an emissivity 0 .. 1 at `surface` [K] that sees nothing but surroundings at
/// `surroundings` [K], much larger than itself (or black): eps sigma (T_s^4 - T_r^4).
HeatFlux grey_flux(double emissivity, double surface, double surroundings);

/// Emissivity to be used in `grey_flux` between two grey patches that see only each other, close and
/// parallel: 1 / (1/eps_1 + 1/eps_2 - 1). Both 0 < eps <= 1, throws std::invalid_argument otherwise.
double exchange_emissivity(double emissivity_a, double emissivity_b);

}  // namespace tuft::elements
