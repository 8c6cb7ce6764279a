#include "solver/study/sampler.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <exception>
#include <stdexcept>
#include <utility>

#include "solver/numerics/constants.hpp"
#include "solver/uncertainty/sobol.hpp"

namespace tuft::study {

namespace {

uncertainty::Shape shape_of(geometry::SpreadKind kind) {
  using uncertainty::Shape;
  constexpr Shape kShapes[] = {Shape::fixed,       Shape::normal,     Shape::uniform,
                               Shape::log_uniform, Shape::triangular, Shape::steps};
  return kShapes[static_cast<int>(kind)];
}

Input input_of(const geometry::Input& written, int number) {
  Input input;
  input.key = written.key;
  input.prior = {shape_of(written.prior.spread),
                 *written.prior,
                 written.prior.low,
                 written.prior.high,
                 written.floor,
                 written.ceiling,
                 written.steps};
  input.origin = written.prior.origin;
  input.of_case = number;
  return input;
}

std::vector<FieldCorrection> by_key(std::vector<FieldCorrection> corrections) {
  std::stable_sort(corrections.begin(), corrections.end(),
                   [](const FieldCorrection& a, const FieldCorrection& b) { return a.key < b.key; });
  return corrections;
}

}  // namespace

bool Input::cyclic() const {
  constexpr double kTurn = 2.0 * numerics::kPi;
  return key == kDraughtFrom && prior.shape == uncertainty::Shape::uniform &&
         std::abs(prior.high - prior.low - kTurn) < 1e-9 * kTurn;
}

std::vector<Input> inputs_of(const geometry::Case& content, const std::vector<FieldCorrection>& corrections) {
  std::vector<Input> inputs;
  for (std::size_t i = 0; i < content.inputs.size(); ++i)
    inputs.push_back(input_of(content.inputs[i], static_cast<int>(i)));
  for (const FieldCorrection& one : by_key(corrections))
    if (one.weight.shape != uncertainty::Shape::fixed) inputs.push_back({one.key, one.weight});
  for (const Input& input : inputs) uncertainty::require_valid(input.prior, input.key.c_str());
  return inputs;
}

uncertainty::Correlation correlation_of(const geometry::Case& content, const std::vector<Input>& inputs) {
  std::vector<uncertainty::CorrelatedPair> pairs;
  for (const geometry::Correlated& pair : content.correlations)
    pairs.push_back({pair.first, pair.second, pair.correlation});
  std::vector<std::string> names;
  for (const Input& input : inputs) names.push_back(input.key);
  uncertainty::JointPlaces joint;
  if (content.joint) joint = {content.joint->inputs, content.joint->places, geometry::kPlaces};
  return {static_cast<int>(inputs.size()), pairs, names, std::move(joint)};
}

namespace {

// Where a field decides, it tells how the air inside is layered: the network's doubt about that is none
// there.
bool field_decides(const std::vector<FieldCorrection>& corrections, int condition) {
  return std::any_of(corrections.begin(), corrections.end(), [condition](const FieldCorrection& one) {
    return one.condition == condition && one.backed;
  });
}

std::vector<double> with_field(const std::vector<Input>& inputs, const double* values) {
  std::vector<double> out(values, values + inputs.size());
  for (std::size_t i = 0; i < inputs.size(); ++i)
    if (inputs[i].key == "laws.mixing") out[i] = inputs[i].prior.nominal;
  return out;
}

// A piece of work that one thread takes at a time.
constexpr int kChunk = 8;
constexpr double kLeast = 0x1p-60;  // the copula may round a coordinate to an end

const std::vector<int>& checked_places(const geometry::Case& content, const std::vector<int>& conditions,
                                       const std::vector<FieldCorrection>& corrections) {
  const int n = static_cast<int>(content.conditions.size());
  for (const int condition : conditions)
    if (condition < 0 || condition >= n) throw std::invalid_argument("Sampler: there is no such condition");
  for (const FieldCorrection& one : corrections)
    if (one.condition < 0 || one.condition >= n || one.vents.size() != content.device.vents.size())
      throw std::invalid_argument(one.key + ": there is no such condition, or it has other vents");
  return conditions;
}

}  // namespace

Sampler::Sampler(const geometry::Case& content, const std::vector<int>& conditions,
                 const std::vector<FieldCorrection>& corrections,
                 const std::vector<ConditionResult>& searched)
    : content_(content),
      conditions_(checked_places(content, conditions, corrections)),
      corrections_(by_key(corrections)),
      inputs_(inputs_of(content, corrections)),
      correlation_(correlation_of(content, inputs_)),
      prepared_(conditions.size()) {
  const PlacedCase placed(content_);  // refuses here, not in a thread
  prepare_all(searched);
  for (const Prepared& prepared : prepared_) nominal_.push_back(prepared.nominal);
}

void Sampler::values_at(const double* point, double* values) const {
  std::copy(point, point + inputs_.size(), values);
  correlation_.tie(values);
  for (std::size_t i = 0; i < inputs_.size(); ++i)
    values[i] = uncertainty::quantile(inputs_[i].prior, std::clamp(values[i], kLeast, 1.0 - kLeast));
}

Batch Sampler::run(const uncertainty::SampleMatrix& points, const study::Ranks& ranks,
                   const std::vector<bool>& wanted, int family) const {
  require_points(points);
  if (family < 1 || points.rows() % family != 0)
    throw std::invalid_argument("Sampler: the rows are not whole families");
  Batch batch;
  const auto n = static_cast<std::size_t>(points.rows());
  batch.values.resize(points.rows(), points.cols());
  batch.views.assign(n, std::vector<study::StateSummary>(conditions_.size()));
  const auto part = [&](int rank) {
    const auto size = static_cast<std::size_t>(family);
    return n / size * static_cast<std::size_t>(rank) / static_cast<std::size_t>(ranks.count()) * size;
  };
  solve_rows(points, part(ranks.mine()), part(ranks.mine() + 1), wanted, family, batch);
  if (ranks.count() > 1) {
    const std::vector<std::string> pieces =
        ranks.exchange(pack(batch, part(ranks.mine()), part(ranks.mine() + 1)));
    batch.failures.clear();
    for (int rank = 0; rank < ranks.count(); ++rank) unpack(pieces[rank], part(rank), part(rank + 1), batch);
  }
  batch.weights.assign(n, 1.0);
  for (const Failure& failure : batch.failures) batch.weights[failure.sample] = 0.0;
  return batch;
}

void Sampler::prepare_all(const std::vector<ConditionResult>& searched) {
  const auto known = [&](int condition) {
    const auto found = std::find_if(searched.begin(), searched.end(), [&](const ConditionResult& result) {
      return result.condition == condition && result.report.converged;
    });
    return found == searched.end() ? nullptr : &found->states;
  };
  const int n = static_cast<int>(conditions_.size());
  std::vector<std::exception_ptr> faults(conditions_.size());
#pragma omp parallel for schedule(dynamic)
  for (int i = 0; i < n; ++i) {
    try {
      prepared_[i] = prepare(content_, conditions_[i], known(conditions_[i]));
      fly_pilots(prepared_[i]);
    } catch (...) {
      faults[i] = std::current_exception();
    }
  }
  for (const std::exception_ptr& fault : faults)
    if (fault) std::rethrow_exception(fault);
}

// Always the same points, so that a sample's result depends on no other.
void Sampler::fly_pilots(Prepared& prepared) const {
  constexpr int kPilots = 32;
  constexpr std::uint64_t kSeed = 20177;
  if (inputs_.empty()) return;
  const auto n = static_cast<int>(inputs_.size());
  const uncertainty::Sobol sequence(n, kSeed);
  PlacedCase placed(content_);
  std::vector<double> point(inputs_.size()), values(inputs_.size());
  for (int i = 0; i < kPilots && !prepared.starts_cold; ++i) {
    sequence.point(static_cast<std::uint64_t>(i), point.data());
    values_at(point.data(), values.data());
    placed.put(values.data());
    try {
      pilot(placed.content(), prepared);
    } catch (const std::exception&) {  // a law's refusal; the samples tell of theirs
    }
  }
}

void Sampler::require_points(const uncertainty::SampleMatrix& points) const {
  if (points.cols() != static_cast<Eigen::Index>(inputs_.size()))
    throw std::invalid_argument("Sampler: a point needs one coordinate for each input");
  for (Eigen::Index i = 0; i < points.rows(); ++i)
    for (Eigen::Index j = 0; j < points.cols(); ++j)
      if (!(points(i, j) > 0.0 && points(i, j) < 1.0))
        throw std::invalid_argument("Sampler: a coordinate is not within (0, 1)");
}

// Values of all rows; views and failures of the rows first .. last - 1. A row writes to its own place only.
void Sampler::solve_rows(const uncertainty::SampleMatrix& points, std::size_t first, std::size_t last,
                         const std::vector<bool>& wanted, long family, Batch& batch) const {
  const auto n = static_cast<long>(points.rows());
  const auto begin = static_cast<long>(first) / family;
  const auto end = static_cast<long>(last) / family;
  const int chunk = static_cast<int>(std::max(1L, kChunk / family));
  std::vector<std::vector<Failure>> failures(static_cast<std::size_t>(end - begin));
  long done = 0;
#pragma omp parallel
  {
    PlacedCase placed(content_);
#pragma omp for schedule(static) nowait
    for (long i = 0; i < n; ++i) values_at(points.row(i).data(), batch.values.row(i).data());
#pragma omp barrier
#pragma omp for schedule(dynamic, chunk)
    for (long i = begin; i < end; ++i) {
      std::vector<network::State> near(conditions_.size());
      for (long row = i * family; row < (i + 1) * family; ++row)
        solve_row(row, wanted, family > 1 ? &near : nullptr, placed, batch, failures[i - begin]);
      if (!watch_) continue;
#pragma omp critical(tuft_sampler_watch)
      watch_(done += family, (end - begin) * family);
    }
  }
  for (std::vector<Failure>& of_family : failures)
    for (Failure& failure : of_family) batch.failures.push_back(std::move(failure));
}

void Sampler::solve_row(long row, const std::vector<bool>& wanted, std::vector<network::State>* near,
                        PlacedCase& placed, Batch& batch, std::vector<Failure>& failures) const {
  const double* values = batch.values.row(row).data();
  placed.put(values);
  std::vector<study::StateSummary>& views = batch.views[row];
  for (std::size_t c = 0; c < conditions_.size(); ++c) {
    if (!wanted.empty() && !wanted[c]) continue;
    std::string reason;
    const bool decided = field_decides(corrections_, conditions_[c]);
    if (decided) placed.put(with_field(inputs_, values).data());
    try {
      views[c] = solve_sample(placed.content(), prepared_[c], reason, near ? &(*near)[c] : nullptr);
    } catch (const std::exception& fault) {  // a law refuses what the tails of the spreads ask of it
      reason = fault.what();
    }
    if (decided) placed.put(values);
    if (views[c].solved)
      correct(values, conditions_[c], views[c]);
    else
      failures.push_back({static_cast<int>(row), conditions_[c], reason});
  }
}

void Sampler::correct(const double* values, int condition, study::StateSummary& view) const {
  std::size_t column = content_.inputs.size();
  for (const FieldCorrection& one : corrections_) {
    const bool known = one.weight.shape == uncertainty::Shape::fixed;
    const double weight = known ? one.weight.nominal : values[column++];
    if (one.condition == condition) study::apply(one, weight, content_.thresholds, view);
  }
}

}  // namespace tuft::study
