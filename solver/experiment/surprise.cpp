#include "solver/experiment/surprise.hpp"

#include <algorithm>
#include <cmath>

#include "solver/uncertainty/summary.hpp"

namespace tuft::belief {
namespace {

constexpr double kWeakest = 0.2;          // correlation below which an input explains nothing (judgement)
constexpr double kFarthest = 3.0;         // standard deviations an input can reasonably be off (judgement)
constexpr std::size_t kMostSuspects = 3;  // suspects named

double correlation(const std::vector<double>& weight, const doubt::Rows& scores, Eigen::Index input,
                   const std::vector<double>& shown, const doubt::Moments& of_shown) {
  std::vector<double> z(shown.size());
  for (std::size_t i = 0; i < z.size(); ++i) z[i] = scores(static_cast<Eigen::Index>(i), input);
  const doubt::Moments of_z = doubt::moments(z, weight);
  if (of_z.deviation <= 0.0 || of_shown.deviation <= 0.0) return 0.0;
  double sum = 0.0, total = 0.0;
  for (std::size_t i = 0; i < z.size(); ++i) {
    sum += weight[i] * (z[i] - of_z.mean) * (shown[i] - of_shown.mean);
    total += weight[i];
  }
  return sum / total / (of_z.deviation * of_shown.deviation);
}

// A value the instrument might be shown that fits the reading: of a number the reading itself, of a lean the
// threshold on its side.
double fitting(const doubt::ErrorModel& error, double reading) {
  if (const auto* lean = std::get_if<doubt::LeanError>(&error)) return reading * lean->threshold;
  if (const auto* seen = std::get_if<doubt::SeenError>(&error)) return reading > 0.0 ? seen->threshold : 0.0;
  return reading;
}

void name_suspects(const std::vector<double>& weight, const doubt::Rows& scores,
                   const std::vector<double>& shown, double wanted, Surprise& out) {
  const doubt::Moments of_shown = doubt::moments(shown, weight);
  const double gap = wanted - of_shown.mean;
  double strongest = 0.0;
  for (Eigen::Index input = 0; input < scores.cols(); ++input) {
    const double r = correlation(weight, scores, input, shown, of_shown);
    strongest = std::max(strongest, std::abs(r));
    if (std::abs(r) >= kWeakest) out.suspects.push_back({static_cast<int>(input), r, r * gap > 0.0});
  }
  std::stable_sort(out.suspects.begin(), out.suspects.end(), [](const Suspect& a, const Suspect& b) {
    return std::abs(a.correlation) > std::abs(b.correlation);
  });
  if (out.suspects.size() > kMostSuspects) out.suspects.resize(kMostSuspects);
  out.out_of_reach = std::abs(gap) > kFarthest * strongest * of_shown.deviation;
}

}  // namespace

std::vector<Surprise> surprises(const std::vector<double>& base, const doubt::Rows& likelihood,
                                const std::vector<doubt::ErrorModel>& errors,
                                const std::vector<double>& readings,
                                const std::vector<std::vector<double>>& shown, const doubt::Rows& scores) {
  std::vector<Surprise> out;
  const double limit = kSurprising / static_cast<double>(std::max<std::size_t>(1, readings.size()));
  for (std::size_t j = 0; j < readings.size(); ++j) {
    std::vector<double> log_weight = doubt::combined(likelihood, static_cast<int>(j));
    for (std::size_t i = 0; i < base.size(); ++i) log_weight[i] += base[i];
    const doubt::Weights others = doubt::normalise(log_weight);
    Surprise surprise;
    surprise.effective = others.effective;
    surprise.tail = doubt::predictive_tail(others, errors[j], readings[j], shown[j]);
    surprise.expected = doubt::quantiles(shown[j], {0.5}, others.value)[0];
    surprise.interval = doubt::central_interval(shown[j], 0.9, others.value);
    surprise.lapse = doubt::lapse_probability(others, errors[j], readings[j], shown[j]);
    // The toss-ups alone keep the tail of a strip above a limit shared among many: where such a reading is
    // more likely one of them than not, the case does not explain it either.
    surprise.unexplained = surprise.tail.two_sided < limit || surprise.lapse > kLikelyLapse;
    if (surprise.unexplained)
      name_suspects(others.value, scores, shown[j], fitting(errors[j], readings[j]), surprise);
    out.push_back(std::move(surprise));
  }
  return out;
}

}  // namespace tuft::belief
