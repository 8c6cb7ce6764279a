#include "solver/flow2d/layer_settle.hpp"

#include <algorithm>
#include <cstdio>

#include "solver/flow2d/layer_collect.hpp"

namespace tuft::plan {
namespace {

constexpr double kQuiet = 2e-2;      // unrest at which Newton's steps are tried first
constexpr double kQuieter = 0.2;     // of that at which they were tried in vain
constexpr double kSwing = 3.0;       // between the residuals of the last steps: to and fro
constexpr std::size_t kLooked = 20;  // steps looked back on
constexpr double kShort = 1.0;       // passages; a mean over less is none

/// Mass of the air in all layers, by the density outside.
double air_mass(const Model& model) {
  double volume = 0.0;
  for (const Layer& layer : model.layers)
    for (std::size_t k = 0; k < layer.problem.depth.size(); ++k)
      if (layer.problem.solid[k] == 0) volume += layer.problem.depth[k];
  return volume * model.raster.dx * model.raster.dy * model.layers.front().problem.fluid.density;
}

}  // namespace

std::string why_no_steady_state(const field::NewtonSummary& summary, bool limited) {
  const std::vector<double>& all = summary.history;
  const std::size_t n = std::min(all.size(), kLooked);
  double low = 1e300, high = 0.0;
  for (std::size_t k = all.size() - n; k < all.size(); ++k) {
    low = std::min(low, all[k]);
    high = std::max(high, all[k]);
  }
  char text[320];
  if (summary.end == field::StepsEnd::diverged)
    std::snprintf(
        text, sizeof text,
        "every step from a residual of %.1e on makes it larger: a vent's or fan's law has a kink there, or "
        "there is no steady state near",
        summary.residual());
  else if (n < 4)
    std::snprintf(text, sizeof text, "the steps allowed were too few to tell why");
  else if (high > kSwing * low)
    std::snprintf(
        text, sizeof text,
        "the last %zu steps go to and fro (residual %.1e to %.1e): between several states, or about one "
        "that is not stable",
        n, low, high);
  else
    std::snprintf(text, sizeof text, "the last %zu steps stand still at a residual of %.1e: %s", n, high,
                  limited ? "a limiter switches, or a vent turns from in to out and back"
                          : "a vent turns from in to out and back, or the cells are too coarse");
  return std::string(text) + " (" + summary.message.substr(0, summary.message.find(". Likely causes")) + ")";
}

Settled settle_in_time(const geometry::Device& device, Model model, const Magnitudes& magnitudes,
                       const Fields& start, const Given& given, const SettleOptions& options,
                       const std::function<bool(const Fields&)>& find_steady) {
  const double air = air_mass(model);
  March march(std::move(model), magnitudes, start, given, {}, options.march);
  Settled out;
  double trigger = kQuiet, begun = 0.0, passed = 0.0;
  while (out.steps < options.most_steps && passed < options.passages) {
    const MarchStep step = march.step(1e9);
    if (!step.good) return out;
    ++out.steps;
    out.time = march.time();
    out.mass = std::max(out.mass, step.solved.books.mass);
    out.energy = std::max(out.energy, step.solved.books.energy);
    PlanResult flows;
    flows.ambient_temperature = march.coupling().fluid().temperature;
    collect_flows(device, march.model(), march.fields(), march.coupling(), &flows);
    const double passages = flows.through_flow / air * step.step;
    passed += passages;
    out.unrest = passages > 0.0 ? step.change / passages : step.change;
    if (options.observer)
      options.observer({out.steps, out.time, step.step, out.unrest, step.solved.residual});
    if (out.unrest < trigger && passed > kShort) {
      if (find_steady(march.fields())) {
        out.end = SettleEnd::steady;
        return out;
      }
      trigger = kQuieter * out.unrest;
    }
    if (2 * out.steps < options.most_steps && 2.0 * passed < options.passages) {
      begun = passed;
      continue;
    }
    out.means.add(march.time(), march.fields(), flows);
  }
  out.passages = passed - begun;
  if (find_steady(march.fields()))
    out.end = SettleEnd::steady;
  else
    out.end = out.passages >= kShort && out.means.span() > 0.0 ? SettleEnd::restless : SettleEnd::brief;
  return out;
}

}  // namespace tuft::plan
