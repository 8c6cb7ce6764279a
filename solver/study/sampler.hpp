// The uncertain inputs of a study, and the case solved at given points of their space.
#pragma once

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/field_correction.hpp"
#include "solver/study/input_kind.hpp"
#include "solver/study/ranks.hpp"
#include "solver/study/sample.hpp"
#include "solver/study/state_summary.hpp"
#include "solver/uncertainty/distribution.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::study {

/// One uncertain input.
struct Input {
  std::string key;  ///< path in the case file, or of a FieldCorrection
  uncertainty::Distribution prior;
  geometry::Origin origin = geometry::Origin::given;
  int of_case = -1;  ///< number in Case::inputs; -1: the weight of a correction by the field
  InputKind kind() const { return input_kind(key); }
  /// True where the ends of the spread are one and the same: a direction that may be any.
  bool cyclic() const;
};

/// The inputs of a case in its own order (Case::inputs), then the weights of corrections that are not fixed,
/// in the order of their keys. Throws std::invalid_argument if a prior is not valid
/// (uncertainty::require_valid), naming its key.
std::vector<Input> inputs_of(const geometry::Case& content,
                             const std::vector<FieldCorrection>& corrections = {});

/// How they are correlated. Throws std::invalid_argument as uncertainty::Correlation does.
uncertainty::Correlation correlation_of(const geometry::Case& content, const std::vector<Input>& inputs);

/// A sample that has no solution in a condition.
struct Failure {
  int sample = 0;     ///< row of the points
  int condition = 0;  ///< index into Case::conditions
  std::string reason;
};

/// What follows from the rows of a matrix of points.
struct Batch {
  uncertainty::SampleMatrix values;                     ///< inputs [SI]
  std::vector<std::vector<study::StateSummary>> views;  ///< [row][place in Sampler::conditions]
  std::vector<double> weights;                          ///< 1, or 0 for a row with a failure
  std::vector<Failure> failures;                        ///< by row, then condition
};

/// A case made ready for thousands of solves: its nominal conditions solved and searched for other states.
/// Each sample is solved from the nominal solution, or from cold where that does not get there or turns a
/// flow; and always from cold where the nominal condition has several states, where warmth turns a
/// flow of the fans, or where one of 32 fixed pilot samples ends elsewhere than from cold: what counts is
/// what a cold start reaches. A sample's result depends on its own point alone.
class Sampler {
 public:
  /// `searched`: results of the same case as written, if there are any; conditions whose states were looked
  /// for there are not searched again.
  /// Throws std::invalid_argument if a condition, or a vent of a correction, does not exist, a prior is not
  /// valid or the correlations can't hold together.
  Sampler(const geometry::Case& content, const std::vector<int>& conditions,
          const std::vector<FieldCorrection>& corrections = {},
          const std::vector<ConditionResult>& searched = {});

  /// Is told how many rows of a run are solved, in no particular order; called by one thread at a time, and
  /// must not throw.
  using Watch = std::function<void(long done, long all)>;
  void set_watch(Watch watch) { watch_ = std::move(watch); }

  const std::vector<int>& conditions() const { return conditions_; }
  const std::vector<Input>& inputs() const { return inputs_; }
  const uncertainty::Correlation& correlation() const { return correlation_; }

  /// The inputs [SI] a row of independent uniform coordinates in (0, 1) stands for: tied by the correlation,
  /// then each by its prior.
  void values_at(const double* point, double* values) const;

  /// Solves the rows of `points` (one column an input): those of a plan for indices, of a refined round. In
  /// the places of `conditions()` that are not `wanted` (none given: all are) views stay unsolved, and that
  /// counts for nothing. Of each `family` rows on end all start from the solution of the
  /// first that has one: for rows that differ in few inputs. Shared among threads and processes. Throws
  /// std::invalid_argument if the columns are not the inputs, a coordinate is not within (0, 1), or the rows
  /// are not whole families.
  Batch run(const uncertainty::SampleMatrix& points, const study::Ranks& ranks = study::Alone(),
            const std::vector<bool>& wanted = {}, int family = 1) const;

  /// The nominal case in the sampler's conditions, not corrected by a field.
  const std::vector<study::StateSummary>& nominal() const { return nominal_; }

 private:
  void prepare_all(const std::vector<ConditionResult>& searched);
  void fly_pilots(Prepared& prepared) const;
  void require_points(const uncertainty::SampleMatrix& points) const;
  void solve_rows(const uncertainty::SampleMatrix& points, std::size_t first, std::size_t last,
                  const std::vector<bool>& wanted, long family, Batch& batch) const;
  void solve_row(long row, const std::vector<bool>& wanted, std::vector<network::State>* near,
                 PlacedCase& placed, Batch& batch, std::vector<Failure>& failures) const;
  void correct(const double* values, int condition, study::StateSummary& view) const;

  geometry::Case content_;
  std::vector<int> conditions_;
  std::vector<FieldCorrection> corrections_;
  std::vector<Input> inputs_;
  uncertainty::Correlation correlation_;
  std::vector<Prepared> prepared_;
  std::vector<study::StateSummary> nominal_;
  Watch watch_;
};

/// Views of the rows first .. last - 1 and the failures, as bytes of this machine.
std::string pack(const Batch& batch, std::size_t first, std::size_t last);

/// Puts the same into a batch whose views are sized; failures are appended.
/// Throws std::runtime_error if the bytes are cut short.
void unpack(const std::string& bytes, std::size_t first, std::size_t last, Batch& batch);

}  // namespace tuft::study
