#include "solver/study/field_need.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::study {

NetworkTrust trust_of(const VentResult& vent) {
  NetworkTrust out;
  const double warm = std::abs(vent.buoyancy_head) + std::abs(vent.span_head);
  const double all = warm + std::abs(vent.fan_head);
  if (all > 0.0) out.buoyancy_share = warm / all;
  const double larger = std::max(vent.inflow, vent.outflow);
  if (larger > 0.0) out.exchange_share = vent.exchange / larger;
  return out;
}

bool is_unsure(const VentResult& vent) {
  if (vent.shut) return false;
  const NetworkTrust trust = trust_of(vent);
  return trust.buoyancy_share > kMostBuoyancy || trust.exchange_share > kMostExchange || !vent.firm;
}

}  // namespace tuft::study
