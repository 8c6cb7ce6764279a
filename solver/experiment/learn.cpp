#include "solver/experiment/learn.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/probability.hpp"

namespace tuft::experiment {
namespace {

constexpr double kStandsOut =
    5.0;  // standard errors of a correlation of 0, among thousands of pairs (judgement)
constexpr double kStrongestTie = 0.99;  // a file can hold no more, and a sample tells no more (judgement)

// Normal scores of weighted ranks, mean 0 and mean square 1; empty for an input that does not vary.
std::vector<double> scores_of(const uncertainty::SampleMatrix& values, Eigen::Index input,
                              const std::vector<double>& weights) {
  std::vector<std::size_t> order(weights.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto value = [&](std::size_t i) { return values(static_cast<Eigen::Index>(i), input); };
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return value(a) < value(b); });
  if (order.empty() || value(order.front()) == value(order.back())) return {};
  std::vector<double> out(weights.size(), 0.0);
  double below = 0.0, mean = 0.0, square = 0.0;
  for (const std::size_t i : order) {
    if (weights[i] <= 0.0) continue;
    const double middle = std::clamp(below + 0.5 * weights[i], 1e-12, 1.0 - 1e-12);
    below += weights[i];
    out[i] = uncertainty::normal_quantile(middle);
    mean += weights[i] * out[i];
    square += weights[i] * out[i] * out[i];
  }
  const double deviation = std::sqrt(std::max(0.0, square - mean * mean));
  if (deviation <= 0.0) return {};
  for (double& score : out) score = (score - mean) / deviation;
  return out;
}

constexpr double kNever = -std::numeric_limits<double>::infinity();
constexpr double kStep = 1e-3;  // least gain of a tempered round; with less it goes nowhere (judgement)
constexpr double kLeastMove =
    4.0;  // standard errors by which an input must have moved to be shown (judgement)
constexpr double kNarrower = 0.9;  // ratio of deviations that is shown as well (judgement)

// A sample on the way from the case to what is known after the observations.
struct Stage {
  uncertainty::SampleMatrix points, scores, values;
  uncertainty::SampleMatrix tied;  // normal scores of the inputs themselves: `scores`, correlated
  std::vector<std::vector<study::StateSummary>> views;
  ReadSample read;               // its base is the log of prior over the density the points were drawn from
  std::vector<double> combined;  // log-likelihood of all observations
};

uncertainty::SampleMatrix scores_of(const uncertainty::SampleMatrix& points) {
  return points.unaryExpr(&uncertainty::normal_quantile);
}

class Learner {
 public:
  Learner(const Questions& questions, const study::Sampler& sampler,
          const std::vector<Observation>& observations, const std::vector<Observable>& observables,
          const LearnOptions& options)
      : questions_(questions),
        sampler_(sampler),
        observations_(observations),
        observables_(observables),
        options_(options) {}

  int count() const { return options_.per_replicate * options_.replicates; }
  int inputs() const { return static_cast<int>(sampler_.inputs().size()); }

  Stage prior() const {
    Stage stage;
    // Without an input every sample is the same: one a replicate, to set the observations against.
    stage.points.resize(options_.replicates, 0);
    if (inputs() > 0)
      stage.points = uncertainty::Replicates(inputs(), options_.replicates, options_.seed).points(0, count());
    stage.scores = scores_of(stage.points);
    stage.read.base.assign(static_cast<std::size_t>(stage.points.rows()), 0.0);
    solve(stage);
    return stage;
  }

  // A sample from a proposal fitted to `from` with a part `temper` of its likelihood.
  Stage refined(const Stage& from, double temper, int round) const {
    std::vector<double> log_weight = from.read.base;
    for (std::size_t i = 0; i < log_weight.size(); ++i) log_weight[i] += temper * from.combined[i];
    const uncertainty::Proposal proposal(from.scores, uncertainty::normalise(log_weight));
    const uncertainty::Replicates sequences(inputs() + 1, options_.replicates,
                                            options_.seed + static_cast<std::uint64_t>(round));
    const uncertainty::SampleMatrix u = sequences.points(0, count());
    Stage stage;
    stage.points.resize(count(), inputs());
    stage.scores.resize(count(), inputs());
    for (Eigen::Index i = 0; i < u.rows(); ++i) {
      proposal.draw(u.row(i).data(), stage.scores.row(i).data());
      stage.read.base.push_back(proposal.log_weight(stage.scores.row(i).data()));
    }
    const double edge = std::numeric_limits<double>::epsilon();  // coordinates lie inside 0 .. 1
    stage.points = stage.scores.unaryExpr(
        [edge](double z) { return std::clamp(uncertainty::normal_cumulative(z), edge, 1.0 - edge); });
    solve(stage);
    return stage;
  }

  static double effective(const Stage& stage) { return uncertainty::normalise(all(stage)).effective; }

  static std::vector<double> all(const Stage& stage) {
    std::vector<double> log_weight = stage.read.base;
    for (std::size_t i = 0; i < log_weight.size(); ++i) log_weight[i] += stage.combined[i];
    return log_weight;
  }

 private:
  void solve(Stage& stage) const {
    study::Batch batch = sampler_.run(stage.points);
    stage.tied = stage.scores;
    for (Eigen::Index i = 0; i < stage.tied.rows(); ++i)
      sampler_.correlation().tie_scores(stage.tied.row(i).data());
    stage.values = std::move(batch.values);
    stage.views = std::move(batch.views);
    for (std::size_t i = 0; i < batch.weights.size(); ++i)
      if (batch.weights[i] <= 0.0) stage.read.base[i] = kNever;
    const auto n = static_cast<Eigen::Index>(stage.views.size());
    stage.read.likelihood.resize(n, static_cast<Eigen::Index>(observations_.size()));
    for (std::size_t j = 0; j < observations_.size(); ++j) {
      stage.read.shown.push_back(observables_[j].shown(questions_, stage.views, stage.values));
      stage.read.errors.push_back(observables_[j].error());
      stage.read.readings.push_back(observations_[j].reading);
      const auto column = uncertainty::log_likelihood(observables_[j].error(), observations_[j].reading,
                                                      stage.read.shown.back());
      for (Eigen::Index i = 0; i < n; ++i) stage.read.likelihood(i, static_cast<Eigen::Index>(j)) = column[i];
    }
    stage.combined = uncertainty::combined(stage.read.likelihood);
  }

  const Questions& questions_;
  const study::Sampler& sampler_;
  const std::vector<Observation>& observations_;
  const std::vector<Observable>& observables_;
  const LearnOptions& options_;
};

std::vector<double> weights_of(const std::vector<double>& log_weight) {
  return uncertainty::normalise(log_weight).value;
}

std::vector<double> column(const uncertainty::SampleMatrix& rows, Eigen::Index input) {
  std::vector<double> out(static_cast<std::size_t>(rows.rows()));
  for (Eigen::Index i = 0; i < rows.rows(); ++i) out[i] = rows(i, input);
  return out;
}

// Before from the first sample, after from the last, each with its own weights.
InputPosterior input_posterior(int input, const Stage& first, const std::vector<double>& before,
                               const Stage& last, const std::vector<double>& after, double effective) {
  InputPosterior out;
  out.input = input;
  const std::vector<double> old_values = column(first.values, input), values = column(last.values, input);
  out.before = uncertainty::moments(old_values, before);
  out.after = uncertainty::moments(values, after);
  out.before_interval = uncertainty::central_interval(old_values, 0.95, before);
  out.after_interval = uncertainty::central_interval(values, 0.95, after);
  if (out.before.deviation <= 0.0) return out;
  out.shift = (out.after.mean - out.before.mean) / out.before.deviation;
  out.narrowed = out.after.deviation / out.before.deviation;
  const double noise = kLeastMove / std::sqrt(std::max(1.0, effective));
  // Standard errors of a mean and of a deviation estimated from so many normal points.
  out.moved = std::abs(out.shift) > noise || out.narrowed < std::min(kNarrower, 1.0 - noise / std::sqrt(2.0));
  return out;
}

// Devices that are equally likely, in the order of the input that their weights tell most of: what draws
// evenly from their list then draws evenly from that.
uncertainty::SampleMatrix devices_of(const Stage& stage, std::uint64_t seed) {
  const uncertainty::Weights weights = uncertainty::normalise(Learner::all(stage));
  const int count = std::min(kDevices, static_cast<int>(stage.values.rows()));
  std::vector<int> drawn = uncertainty::resample(weights, count, seed);
  const Eigen::Map<const Eigen::VectorXd> weight(weights.value.data(), stage.tied.rows());
  Eigen::Index by = 0;
  double most = -1.0;
  for (Eigen::Index input = 0; input < stage.tied.cols(); ++input) {
    const double shift = std::abs(weight.dot(stage.tied.col(input)));
    if (shift > most) by = input;
    most = std::max(most, shift);
  }
  if (stage.values.cols() > 0)
    std::stable_sort(drawn.begin(), drawn.end(),
                     [&](int a, int b) { return stage.values(a, by) < stage.values(b, by); });
  uncertainty::SampleMatrix out(count, stage.values.cols());
  for (int i = 0; i < count; ++i) out.row(i) = stage.values.row(drawn[i]);
  return out;
}

// Without an observation that contradicts the others the last sample may be thin where the first one is not,
// and the other way round: the one that has more to say is asked.
std::vector<PredictiveCheck> predictive_checks_of(const Stage& first, const Stage& last) {
  std::vector<PredictiveCheck> out = predictive_checks(first.read, first.tied);
  const std::vector<PredictiveCheck> late = predictive_checks(last.read, last.tied);
  for (std::size_t j = 0; j < out.size(); ++j)
    if (late[j].effective > out[j].effective) out[j] = late[j];
  return out;
}

}  // namespace

std::vector<PosteriorCorrelation> correlations(const uncertainty::SampleMatrix& values,
                                               const std::vector<double>& weights, double effective,
                                               double least) {
  const double needed = std::max(least, kStandsOut / std::sqrt(std::max(1.0, effective)));
  const double sum = std::accumulate(weights.begin(), weights.end(), 0.0);
  std::vector<PosteriorCorrelation> out;
  if (needed >= 1.0 || sum <= 0.0) return out;
  std::vector<double> share = weights;
  for (double& weight : share) weight /= sum;
  std::vector<std::vector<double>> scores;
  for (Eigen::Index input = 0; input < values.cols(); ++input)
    scores.push_back(scores_of(values, input, share));
  for (std::size_t a = 0; a < scores.size(); ++a) {
    for (std::size_t b = a + 1; b < scores.size() && !scores[a].empty(); ++b) {
      if (scores[b].empty()) continue;
      double r = 0.0;
      for (std::size_t i = 0; i < share.size(); ++i) r += share[i] * scores[a][i] * scores[b][i];
      if (std::abs(r) >= needed)
        out.push_back(
            {static_cast<int>(a), static_cast<int>(b), std::clamp(r, -kStrongestTie, kStrongestTie)});
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const PosteriorCorrelation& a, const PosteriorCorrelation& b) {
    return std::abs(a.correlation) > std::abs(b.correlation);
  });
  return out;
}

Learned learn(const geometry::Case& content, const Questions& questions, const study::Sampler& sampler,
              const std::vector<Observation>& observations, const std::vector<Observable>& observables,
              const LearnOptions& options) {
  const Learner learner(questions, sampler, observations, observables, options);
  const Stage first = learner.prior();
  Learned out;
  out.inputs = sampler.inputs();
  out.samples = first.views.size();
  out.effective_at_once = out.effective = Learner::effective(first);
  Stage stage = first;
  double temper = 0.0;
  const bool learns = learner.inputs() > 0;
  while (learns && out.effective < options.wanted && out.rounds < options.most_rounds) {
    const double next = uncertainty::tempering(stage.combined, options.wanted, stage.read.base);
    if (out.rounds > 0 && next <= temper + kStep) break;
    temper = next;
    Stage refined = learner.refined(stage, temper, ++out.rounds);
    out.samples += refined.views.size();
    stage = std::move(refined);
    out.effective = Learner::effective(stage);
  }
  out.thin = learns && out.effective < options.least;
  out.reliable = !learns || out.effective >= options.fewest;
  const std::vector<double> before = weights_of(first.read.base), after = weights_of(Learner::all(stage));
  out.before = probabilities(content, questions, {first.views, before, options.replicates});
  out.after = probabilities(content, questions, {stage.views, after, options.replicates});
  for (int input = 0; input < learner.inputs(); ++input)
    out.probabilities.push_back(input_posterior(input, first, before, stage, after, out.effective));
  out.correlations = correlations(stage.values, after, out.effective);
  out.devices = devices_of(stage, options.seed);
  out.predictive_checks = predictive_checks_of(first, stage);
  out.contradictions = contradictions(first.read);  // the description is what the first sample was drawn from
  return out;
}

}  // namespace tuft::experiment
