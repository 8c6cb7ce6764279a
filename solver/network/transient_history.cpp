#include "solver/network/transient_history.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"

namespace tuft::transient {
namespace {

// A through-flow below this share of the largest one is little, and not asked to settle as closely [-]: a
// device that cools down ends without any (judgement).
constexpr double kLittle = 0.1;

// The last time at which the track lies outside the band around its last value; `since` when it never does.
double last_outside(const std::vector<double>& time, const std::vector<double>& values, double band,
                    double since) {
  if (values.empty()) return since;
  const double end = values.back();
  for (std::size_t i = values.size() - 1; i > 0; --i) {
    if (time[i] <= since) break;
    const double near = std::abs(values[i] - end);
    const double far = std::abs(values[i - 1] - end);
    if (far <= band) continue;
    const double share = far > near ? (far - band) / (far - near) : 1.0;
    return std::max(time[i - 1] + share * (time[i] - time[i - 1]), since);
  }
  return since;
}

double through_flow(const History& history, std::size_t index) {
  double sum = 0.0;
  for (const Track& vent : history.inflow) sum += vent.values[index];
  return sum;
}

double largest_through_flow(const History& history) {
  double largest = 0.0;
  for (std::size_t i = 0; i < history.time.size(); ++i) largest = std::max(largest, through_flow(history, i));
  return largest;
}

}  // namespace

Settling settling(const Course& course, double band, double flow_share) {
  base::require_positive(band, "band");
  base::require_positive(flow_share, "share of the flow");
  const History& history = course.history;
  Settling result;
  if (history.time.empty()) return result;
  result.known = course.ending == Ending::steady;
  for (const Event& event : course.events)
    if (event.kind == EventKind::change) result.since = std::max(result.since, event.time);
  for (const Track& track : history.temperature)
    result.of_temperature.push_back(last_outside(history.time, track.values, band, result.since) -
                                    result.since);
  const double through =
      std::max(through_flow(history, history.time.size() - 1), kLittle * largest_through_flow(history));
  const double flow_band = std::max(flow_share * through, 1e-300);
  for (const auto* tracks : {&history.inflow, &history.outflow})
    for (const Track& track : *tracks)
      result.flow = std::max(
          result.flow, last_outside(history.time, track.values, flow_band, result.since) - result.since);
  result.overall = result.flow;
  for (double time : result.of_temperature) result.overall = std::max(result.overall, time);
  return result;
}

}  // namespace tuft::transient
