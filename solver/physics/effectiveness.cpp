#include "solver/physics/effectiveness.hpp"

#include <cmath>

namespace tuft::elements {

Effectiveness effectiveness(double transfer_units) {
  return {-std::expm1(-transfer_units), std::exp(-transfer_units)};
}

CarriedHeat carried_heat(double mass_flow, double specific_heat, double conductance, double d_conductance) {
  const double capacity = mass_flow * specific_heat;
  // Beyond 700 the exponential is nothing, and the division would overflow on the way to zero flow.
  if (capacity * 700.0 <= conductance) return {capacity, specific_heat};
  const Effectiveness share = effectiveness(conductance / capacity);
  const double by_conductance = share.d_transfer_units;
  const double by_capacity = share.value - share.d_transfer_units * conductance / capacity;
  return {capacity * share.value, specific_heat * by_capacity + by_conductance * d_conductance};
}

}  // namespace tuft::elements
