#include "solver/study/sample.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/network/branches.hpp"
#include "solver/network/fan_speed.hpp"
#include "solver/network/initial_states.hpp"
#include "solver/study/solution.hpp"

namespace tuft::study {

namespace {

double sum_of(const geometry::Source& source) {
  double sum = 0.0;
  for (const geometry::HeatShare& share : source.shares) sum += *share.share;
  return sum;
}

bool has_uncertain_share(const geometry::Source& source) {
  return std::any_of(source.shares.begin(), source.shares.end(),
                     [](const geometry::HeatShare& share) { return share.share.input >= 0; });
}

}  // namespace

PlacedCase::PlacedCase(const geometry::Case& content) : content_(content) {
  const int inputs = static_cast<int>(content.inputs.size());
  geometry::for_each_value(content_, [&](geometry::Value& value) {
    if (value.input >= inputs || value.times >= inputs)
      throw std::invalid_argument("PlacedCase: a value comes from an input that the case has not");
    if (value.input >= 0) places_.push_back({&value, value.scale, value.input, value.times});
  });
  for (geometry::Source& source : content_.device.sources)
    if (has_uncertain_share(source)) shares_.push_back({&source, sum_of(source)});
  for (const geometry::Input& input : content_.inputs) nominal_.push_back(*input.prior);
}

void PlacedCase::put(const double* values) {
  for (const Place& place : places_) {
    double value = place.scale * values[place.input];
    if (place.times >= 0 && nominal_[place.times] != 0.0)
      value *= values[place.times] / nominal_[place.times];
    place.value->nominal = value;
  }
  keep_power_whole();
}

void PlacedCase::keep_power_whole() {
  for (const Shares& entry : shares_) {
    const double sum = sum_of(*entry.source);
    if (sum <= 0.0) continue;
    const double factor = entry.sum / sum;
    for (geometry::HeatShare& share : entry.source->shares) share.share.nominal *= factor;
  }
}

namespace {

using geometry::Case;
using network::State;

// A flow has turned if it goes the other way in two states and is no trickle in either: shares of the largest
// flow; judgement.
constexpr double kTrickle = 0.02;

std::vector<std::pair<int, int>> ends_of(const network::Graph& graph) {
  std::vector<std::pair<int, int>> ends;
  for (const network::Opening& opening : graph.openings) ends.emplace_back(opening.a, opening.b);
  for (const network::FanElement& fan : graph.fans) ends.emplace_back(fan.a, fan.b);
  return ends;
}

bool same_ends(const network::Graph& graph, const Prepared& prepared) {
  const std::size_t n = graph.openings.size();
  if (n + graph.fans.size() != prepared.ends.size()) return false;
  if (static_cast<Eigen::Index>(graph.nodes.size() + graph.bodies.size()) !=
      prepared.free_state.temperature.size())
    return false;
  for (std::size_t e = 0; e < n; ++e)
    if (prepared.ends[e] != std::pair{graph.openings[e].a, graph.openings[e].b}) return false;
  return true;
}

bool turned(const State& from, const State& to) {
  const auto largest = [](const State& x) { return x.flow.size() > 0 ? x.flow.cwiseAbs().maxCoeff() : 0.0; };
  const double trickle = kTrickle * std::max(largest(from), largest(to));
  for (Eigen::Index e = 0; e < from.flow.size(); ++e) {
    const double a = from.flow[e];
    const double b = to.flow[e];
    if (a * b < 0.0 && std::abs(a) > trickle && std::abs(b) > trickle) return true;
  }
  return false;
}

study::StateSummary summary_at(const Case& content, int condition, const network::Model& model,
                               const network::Steady& steady, const network::Equations& equations) {
  return study::summary_of(content, condition, {model.net, model.layout, steady, equations, steady.state});
}

study::StateSummary solve_from(const Case& content, int condition, const State* start,
                               network::Summary& summary, const std::vector<network::Parts>* parts = nullptr) {
  network::Model model = study::model_of(content, condition, parts);
  network::SteadySolver solver(content, model.layout, model.net);
  const network::Steady steady = solver.solve(start);
  summary = steady.summary;
  if (!summary.converged()) return {};
  return summary_at(content, condition, model, steady, solver.equations());
}

// A cold solve that stalls is followed in the device's own time.
study::StateSummary solve_in_time(const Case& content, int condition) {
  const auto x = network::rest_from_cold(study::model_of(content, condition));
  network::Summary summary;
  return x ? solve_from(content, condition, &*x, summary) : study::StateSummary{};
}

// `parts` of the zones where they are known.
study::StateSummary solve_cold(const Case& content, int condition, std::string& reason,
                               const std::vector<network::Parts>* parts = nullptr) {
  network::Summary summary;
  study::StateSummary view = solve_from(content, condition, nullptr, summary, parts);
  if (!view.solved && summary.stop == network::StopReason::stalled) view = solve_in_time(content, condition);
  if (!view.solved) reason = summary.message;
  return view;
}

// What a device ends in where a cold solve ends in a state that nothing keeps: found by a search.
study::StateSummary solve_searched(const Case& content, int condition, std::string& reason) {
  const geometry::Condition& wanted = content.conditions[condition];
  const network::Branches found = network::find_branches(content, wanted);
  reason = found.summary.message;
  if (!found.summary.converged() || found.branches.empty()) return {};
  network::Summary summary;
  study::StateSummary view = solve_from(content, condition, &found.branches.front().steady.state, summary);
  reason = summary.message;
  return view;
}

// As study::differ() of whole states.
bool differ(const study::StateSummary& a, const study::StateSummary& b) {
  constexpr double kFlow = 1e-4;
  for (std::size_t v = 0; v < a.vents.size(); ++v)
    if (std::max(std::abs(a.vents[v].inflow - b.vents[v].inflow),
                 std::abs(a.vents[v].outflow - b.vents[v].outflow)) > kFlow * a.through_flow)
      return true;
  return false;
}

// What the fans alone do, at the speeds they have in a state.
State flow_of_fans(network::Graph graph, const State& x) {
  for (network::FanElement& fan : graph.fans) {
    if (fan.sensor >= 0) fan.speed = network::speed_of(fan, graph, x);
    fan.sensor = network::kNoSensor;
  }
  network::Solver solver(graph);
  network::Options options;
  options.frozen_temperature = true;
  solver.solve(options);
  return solver.state();
}

}  // namespace

namespace {

// What a search finds that samples depend on.
States searched(const Case& content, int condition, const State& reached) {
  States states;
  const network::Branches found = network::find_branches(content, content.conditions[condition]);
  if (!found.summary.converged() || found.branches.empty()) return states;
  const network::Branch& cold = found.branches.front();
  states.looked_for = true;
  states.stable = found.stable;
  states.slides = cold.stability.stable && study::differ(reached, cold.steady.state);
  return states;
}

}  // namespace

Prepared prepare(const Case& content, int condition, const States* known) {
  Prepared prepared;
  prepared.condition = condition;
  network::Model model = study::model_of(content, condition);
  prepared.ends = ends_of(model.net.graph);
  prepared.parts = model.net.layout.parts;
  network::SteadySolver solver(content, model.layout, model.net);
  const network::Steady steady = solver.solve();
  prepared.reason = steady.summary.message;
  if (!steady.summary.converged()) return prepared;
  prepared.has_start = true;
  prepared.free_state = solver.free_state();
  prepared.nominal = summary_at(content, condition, model, steady, solver.equations());
  const States states = known && known->looked_for ? *known : searched(content, condition, steady.state);
  if (!states.looked_for) return prepared;
  prepared.starts_cold =
      states.stable > 1 || turned(flow_of_fans(model.net.graph, steady.state), steady.state);
  prepared.slides = states.slides;
  if (prepared.slides) prepared.nominal = solve_searched(content, condition, prepared.reason);
  return prepared;
}

void pilot(const Case& content, Prepared& prepared) {
  if (!prepared.has_start || prepared.starts_cold || prepared.slides) return;
  std::string ignored;
  const study::StateSummary near = solve_sample(content, prepared, ignored);
  const study::StateSummary cold = solve_cold(content, prepared.condition, ignored, &prepared.parts);
  if (near.solved != cold.solved || (near.solved && differ(near, cold))) prepared.starts_cold = true;
}

study::StateSummary solve_sample(const Case& content, const Prepared& prepared, std::string& reason,
                                 State* near) {
  const int condition = prepared.condition;
  if (prepared.slides) return solve_searched(content, condition, reason);
  if (!prepared.has_start) return solve_cold(content, condition, reason);
  if (prepared.starts_cold) return solve_cold(content, condition, reason, &prepared.parts);
  network::Model model = study::model_of(content, condition, &prepared.parts);
  if (!same_ends(model.net.graph, prepared)) return solve_cold(content, condition, reason);
  network::SteadySolver solver(content, model.layout, model.net);
  const bool has_near = near && near->flow.size() > 0;
  const network::Steady steady = solver.solve_close(has_near ? *near : prepared.free_state);
  if (has_near && !steady.summary.converged()) return solve_sample(content, prepared, reason);
  if (!steady.summary.converged() || turned(prepared.free_state, solver.free_state()))
    return solve_cold(content, condition, reason, &prepared.parts);
  if (near && !has_near) *near = solver.free_state();
  return summary_at(content, condition, model, steady, solver.equations());
}

}  // namespace tuft::study
