#include "solver/experiment/ranges.hpp"

#include <algorithm>

#include "solver/uncertainty/summary.hpp"

namespace tuft::belief {
namespace {

VentRange range_of(const Sample& sample, std::size_t place, int vent) {
  VentRange out;
  out.odds = role_odds(sample, static_cast<int>(place), vent);
  std::vector<double> net(sample.views.size(), 0.0);
  for (std::size_t i = 0; i < net.size(); ++i) {
    if (sample.weights[i] <= 0.0) continue;
    const study::VentView& view = sample.views[i][place].vents[static_cast<std::size_t>(vent)];
    net[i] = view.inflow - view.outflow;
  }
  out.net_median = doubt::quantiles(net, {0.5}, sample.weights)[0];
  out.net = doubt::central_interval(net, kShownLevel, sample.weights);
  return out;
}

}  // namespace

std::vector<ConditionRanges> ranges(const geometry::Case& content, const Questions& questions,
                                    const Sample& all) {
  std::vector<ConditionRanges> out;
  for (std::size_t place = 0; place < questions.conditions.size(); ++place) {
    ConditionRanges here;
    here.condition = questions.conditions[place];
    std::vector<double> weights = all.weights;
    double none = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
      if (all.views[i][place].solved) continue;
      weights[i] = 0.0;
      none += 1.0;
    }
    here.unsolved = none / static_cast<double>(std::max<std::size_t>(1, weights.size()));
    if (std::any_of(weights.begin(), weights.end(), [](double weight) { return weight > 0.0; })) {
      const Sample sample{all.views, weights, all.replicates};
      for (int vent = 0; vent < static_cast<int>(content.device.vents.size()); ++vent)
        here.vents.push_back(range_of(sample, place, vent));
    }
    out.push_back(std::move(here));
  }
  return out;
}

}  // namespace tuft::belief
