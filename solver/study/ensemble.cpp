#include "solver/study/ensemble.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>
#include <utility>

namespace tuft::study {
namespace {

uncertainty::SampleMatrix below(const uncertainty::SampleMatrix& above,
                                const uncertainty::SampleMatrix& more) {
  uncertainty::SampleMatrix all(above.rows() + more.rows(), more.cols());
  all.topRows(above.rows()) = above;
  all.bottomRows(more.rows()) = more;
  return all;
}

class Growth {
 public:
  Growth(const Sampler& sampler, const Options& options, const study::Ranks& ranks)
      : sampler_(sampler), options_(options), ranks_(ranks) {
    out_.inputs = sampler.inputs();
    out_.conditions = sampler.conditions();
    out_.replicates = options.budget.replicates;
    const auto n = static_cast<Eigen::Index>(out_.inputs.size());
    out_.points.resize(0, n);
    out_.values.resize(0, n);
  }

  Ensemble run() {
    int done = 0;
    // Without an input every sample is the same: there is nothing to sample but the device as written.
    if (out_.inputs.empty()) {
      add(uncertainty::SampleMatrix(options_.budget.replicates, 0));
      judge();
      out_.progress = uncertainty::Progress::settled;
      return std::move(out_);
    }
    const uncertainty::Replicates sequences(static_cast<int>(out_.inputs.size()), out_.replicates,
                                            options_.seed);
    while (out_.progress == uncertainty::Progress::go_on) {
      const int next = uncertainty::next_points(done, options_.budget);
      add(sequences.points(static_cast<std::uint64_t>(done) * sequences.count(),
                           (next - done) * sequences.count()));
      done = next;
      judge();
      out_.progress = options_.truths && out_.claims.empty()
                          ? uncertainty::Progress::spent  // nothing solves: more of it tells no more
                          : uncertainty::progress(out_.claims, done, options_.budget, options_.rule);
    }
    return std::move(out_);
  }

 private:
  void add(const uncertainty::SampleMatrix& points) {
    Batch batch = sampler_.run(points, ranks_);
    const auto before = static_cast<int>(out_.views.size());
    out_.points = below(out_.points, points);
    out_.values = below(out_.values, batch.values);
    for (Failure& failure : batch.failures) {
      failure.sample += before;
      out_.failures.push_back(std::move(failure));
    }
    std::vector<std::vector<double>> truths(batch.views.size());
    if (options_.truths)
      uncertainty::for_each_piece(static_cast<long>(truths.size()), [&](long i) {
        if (batch.weights[i] != 0.0) truths[i] = options_.truths(batch.views[i]);
      });
    for (std::size_t i = 0; i < batch.views.size(); ++i) {
      out_.views.push_back(std::move(batch.views[i]));
      out_.weights.push_back(batch.weights[i]);
      note_truths(out_.views.size() - 1, truths[i]);
    }
  }

  void note_truths(std::size_t sample, const std::vector<double>& truths) {
    if (!options_.truths) return;
    if (out_.weights[sample] == 0.0) {
      for (std::vector<double>& of_claim : truths_) of_claim.push_back(0.0);
      ++unsolved_;
      return;
    }
    if (truths_.empty()) truths_.assign(truths.size(), std::vector<double>(unsolved_, 0.0));
    if (truths.size() != truths_.size())
      throw std::invalid_argument("ensemble: the number of claims changes from sample to sample");
    for (std::size_t c = 0; c < truths.size(); ++c) truths_[c].push_back(truths[c]);
  }

  // Claims that fewer than two replicates can tell of stay without a probability; nothing is settled then.
  void judge() {
    out_.claims.clear();
    const bool any = std::any_of(out_.weights.begin(), out_.weights.end(), [](double w) { return w > 0.0; });
    if (!any) return;
    for (const std::vector<double>& events : truths_) {
      const auto counts = uncertainty::count_replicates(events, out_.replicates, out_.weights);
      const auto told =
          std::count_if(counts.begin(), counts.end(),
                        [](const uncertainty::ReplicateCount& count) { return count.total > 0.0; });
      if (told < 2) {
        uncertainty::Probability open;
        open.value = 0.5;
        open.interval = {0.0, 1.0};
        out_.claims.push_back(open);
      } else {
        out_.claims.push_back(uncertainty::probability(counts));
      }
    }
  }

  const Sampler& sampler_;
  const Options& options_;
  const study::Ranks& ranks_;
  Ensemble out_;
  std::vector<std::vector<double>> truths_;  // [claim][sample]
  std::size_t unsolved_ = 0;                 // samples before the first that solved
};

}  // namespace

Ensemble run(const Sampler& sampler, const Options& options, const study::Ranks& ranks) {
  uncertainty::require_valid(options.budget);
  uncertainty::require_valid(options.rule);
  if (sampler.inputs().size() > static_cast<std::size_t>(uncertainty::kMostDimensions))
    throw std::invalid_argument("ensemble: " + std::to_string(sampler.inputs().size()) +
                                " numbers with a spread, more than the " +
                                std::to_string(uncertainty::kMostDimensions) + " that can be sampled");
  return Growth(sampler, options, ranks).run();
}

}  // namespace tuft::study
