// The uncertain inputs of a study, and the case solved at given points of their space.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/ranks.hpp"
#include "solver/study/state_summary.hpp"
#include "solver/uncertainty/distribution.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::study {

/// One uncertain input.
struct Input {
  std::string key;  ///< path in the case file, or the name of a FlowFactor
  uncertainty::Distribution prior;
  geometry::Origin origin = geometry::Origin::given;
  int of_case = -1;  ///< number in Case::inputs; -1: a factor of model uncertainty
};

/// Uncertainty of the model itself, one input: the flows of vents in some conditions may be larger or smaller
/// by a factor than the network says (from its agreement with the field).
struct FlowFactor {
  std::string key;                  ///< "model.flow.base-grille"
  uncertainty::Distribution prior;  ///< of the factor [-], > 0, nominal 1
  struct Where {
    int condition = 0;  ///< index into Case::conditions
    int vent = 0;       ///< index into Device::vents
  };
  std::vector<Where> where;
};

/// The inputs of a case in its own order (Case::inputs), then the factors.
/// Throws std::invalid_argument if a prior is not valid (uncertainty::require_valid), naming its key.
std::vector<Input> inputs_of(const geometry::Case& content, const std::vector<FlowFactor>& factors = {});

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
  /// Throws std::invalid_argument if a condition or a factor's place does not exist, a prior is not valid or
  /// the correlations can't hold together.
  Sampler(const geometry::Case& content, const std::vector<int>& conditions,
          const std::vector<FlowFactor>& factors = {});
  ~Sampler();
  Sampler(Sampler&&) noexcept;

  const std::vector<int>& conditions() const;
  const std::vector<Input>& inputs() const;
  const uncertainty::Correlation& correlation() const;

  /// The inputs [SI] a row of independent uniform coordinates in (0, 1) stands for: tied by the correlation,
  /// then each by its prior.
  void values_at(const double* point, double* values) const;

  /// Solves the rows of `points` (one column an input): those of a plan for indices, of a refined round.
  /// Shared among threads and processes. Throws std::invalid_argument if the columns are not the inputs or a
  /// coordinate is not within (0, 1).
  Batch run(const uncertainty::SampleMatrix& points, const study::Ranks& ranks = study::Alone()) const;

  /// The nominal case in the sampler's conditions, factors at 1.
  const std::vector<study::StateSummary>& nominal() const;

 private:
  class Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace tuft::study
