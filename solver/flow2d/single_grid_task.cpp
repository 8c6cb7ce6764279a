// A problem that stands alone as a task of the driver, and the ways to begin with one.
#include "solver/flow2d/driver.hpp"

namespace tuft::flow2d {

SingleGridTask::SingleGridTask(const std::vector<Problem*>& grids) {
  for (Problem* problem : grids) {
    flows_.emplace_back();
    flows_.back().layers = {problem};
  }
}

Fields SingleGridTask::start(int level) { return {{still_state(*flow(level).layers[0])}, {}}; }

Fields SingleGridTask::carried(int level, const Fields& fields) {
  const Problem &from = *flow(level).layers[0], &to = *flow(level + 1).layers[0];
  State out = interpolated(from, fields.layers[0], to);
  if (!to.energy) out.temperature.fill(to.fluid.temperature);
  return {{std::move(out)}, {}};
}

Strategy thick_air_first() {
  Strategy out;
  for (const double thicker : {256.0, 64.0, 16.0, 4.0})
    out.first.push_back({1.0, thicker, true, 1e-3, 1e4, 20});
  // On a finer grid, when its flow was not found at once.
  for (const double thicker : {16.0, 6.0, 3.0, 2.0, 1.4})
    out.again.push_back({1.0, thicker, true, 1e-3, 1e4, 20});
  // Bold first steps lead astray where the interpolated start has a jet beside a wall.
  out.rough_courant = 5.0;
  out.rough_steps = 40;
  out.courants = {5.0};
  return out;
}

Strategy bold_from_coarse() {
  Strategy out = thick_air_first();
  out.rough_courant = 1e5;
  out.courants = {1e5, 5.0};
  out.scheme_at_once = true;
  return out;
}

}  // namespace tuft::flow2d
