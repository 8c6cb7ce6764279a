#include "solver/network/cold_start.hpp"

#include <utility>

#include "solver/network/relax.hpp"

namespace tuft::heat {

Steady solve_from_cold(const geometry::Case& content, Model& model) {
  Model fresh = model;
  Steady cold = solve_steady(content, model.layout, model.net);
  if (cold.summary.stop != network::StopReason::stalled) return cold;
  const auto rest = rest_from_cold(fresh);
  if (!rest) return cold;
  Steady later = solve_steady(content, fresh.layout, fresh.net, &*rest);
  if (!later.summary.converged()) return cold;
  model = std::move(fresh);
  return later;
}

}  // namespace tuft::heat
