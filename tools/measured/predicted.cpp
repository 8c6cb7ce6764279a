#include "tools/measured/predicted.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/ensemble.hpp"
#include "solver/study/predict.hpp"
#include "solver/study/sample.hpp"
#include "solver/study/state_summary.hpp"
#include "solver/study/statement.hpp"
#include "tools/measured/quantity.hpp"

namespace tuft::measured {
namespace {

constexpr int kReplicates = 16, kPoints = 16;  ///< 256 samples; the 5 % and 95 % points rest on 13 each
constexpr double kLow = 0.05, kHigh = 0.95;

geometry::Case read(const std::string& path) {
  const casefile::ReadResult result = casefile::read_case(path);
  if (!result.errors.empty())
    throw std::runtime_error(casefile::format(result.errors.front(), result.file.text));
  return result.file.content;
}

std::vector<int> all_conditions(const geometry::Case& content) {
  std::vector<int> all;
  for (std::size_t i = 0; i < content.conditions.size(); ++i) all.push_back(static_cast<int>(i));
  return all;
}

/// Value of rising numbers at a share of their count, straight in between.
double quantile(const std::vector<double>& rising, double share) {
  const double place = share * static_cast<double>(rising.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  if (below + 1 >= rising.size()) return rising.back();
  return rising[below] + (place - static_cast<double>(below)) * (rising[below + 1] - rising[below]);
}

int claim_of(const geometry::Case& content, const Trend& trend) {
  for (std::size_t i = 0; i < content.claims.size(); ++i)
    if (content.claims[i].id == trend.claim) return static_cast<int>(i);
  throw std::runtime_error(trend.file + " has no claim '" + trend.claim + "'");
}

/// One case with what is asked of it.
class Asked {
 public:
  Asked(const std::string& folder, const std::string& file)
      : content_(read(folder + "/" + file + ".yaml")), conditions_(all_conditions(content_)) {}

  void ask(Compared& compared) { values_.push_back({quantity_of(content_, compared.value), &compared, {}}); }
  void ask(Judged& judged) {
    judged.say = content_.claims[claim_of(content_, judged.trend)].say;
    trends_.push_back({claim_of(content_, judged.trend), &judged, 0, 0});
  }

  void answer() {
    look(content_, true);
    study::Options options;
    options.budget = {kReplicates, kPoints, kPoints};
    const study::Ensemble ensemble = study::run(study::Sampler(content_, conditions_), options);
    study::PlacedCase placed(content_);
    for (long i = 0; i < ensemble.values.rows(); ++i) {
      placed.put(ensemble.values.row(i).data());
      look(placed.content(), false);
    }
    for (AskedValue& asked : values_) put_interval(asked);
    for (AskedTrend& asked : trends_)
      asked.judged->share = asked.judgements > 0 ? double(asked.holds) / asked.judgements : 0.0;
  }

 private:
  struct AskedValue {
    Quantity quantity;
    Compared* compared;
    std::vector<double> samples;
  };
  struct AskedTrend {
    int claim;
    Judged* judged;
    int holds, judgements;
  };

  void look(const geometry::Case& content, bool nominal) {
    const auto results = study::predict_these(content, conditions_, study::StateSearch::none);
    for (AskedValue& ask : values_) {
      const double value = asked(content, ask.quantity, results);
      if (nominal)
        ask.compared->predicted = value;
      else if (std::isfinite(value))
        ask.samples.push_back(value);
    }
    std::vector<study::StateSummary> views;
    for (const study::ConditionResult& result : results) views.push_back(study::summary_of(result));
    for (AskedTrend& ask : trends_) {
      const geometry::Claim& claim = content.claims[ask.claim];
      if (!study::is_solved(claim, views)) continue;
      const bool holds = study::is_true(content, claim, views);
      if (nominal)
        ask.judged->nominal = holds;
      else
        ++ask.judgements, ask.holds += holds ? 1 : 0;
    }
  }

  static void put_interval(AskedValue& ask) {
    Compared& compared = *ask.compared;
    compared.solved = static_cast<int>(ask.samples.size());
    if (!std::isfinite(compared.predicted) || ask.samples.empty())
      throw std::runtime_error(compared.value.file + ", " + compared.value.condition + ": no solution");
    std::sort(ask.samples.begin(), ask.samples.end());
    compared.low = quantile(ask.samples, kLow);
    compared.high = quantile(ask.samples, kHigh);
  }

  geometry::Case content_;
  std::vector<int> conditions_;
  std::vector<AskedValue> values_;
  std::vector<AskedTrend> trends_;
};

}  // namespace

Coverage coverage(const std::vector<Compared>& values) {
  Coverage coverage;
  for (const Compared& compared : values) {
    if (!compared.value.counts) continue;
    ++coverage.counted;
    if (compared.inside()) ++coverage.inside;
    if (compared.touches()) ++coverage.touched;
  }
  return coverage;
}

Comparison compare(const std::string& folder) {
  Comparison comparison;
  for (const Value& value : read_values(folder + "/values.csv")) {
    comparison.values.emplace_back();
    comparison.values.back().value = value;
  }
  for (const Trend& trend : read_trends(folder + "/trends.csv")) {
    comparison.trends.emplace_back();
    comparison.trends.back().trend = trend;
  }
  std::map<std::string, Asked> cases;
  const auto case_of = [&](const std::string& file) -> Asked& {
    return cases.try_emplace(file, folder, file).first->second;
  };
  for (Compared& compared : comparison.values) case_of(compared.value.file).ask(compared);
  for (Judged& judged : comparison.trends) case_of(judged.trend.file).ask(judged);
  for (auto& [file, asked] : cases) asked.answer();
  return comparison;
}

}  // namespace tuft::measured
