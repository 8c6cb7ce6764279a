// What the field says otherwise than the network in one condition, as one uncertain input of a sample.
#pragma once

#include <string>
#include <vector>

#include "solver/study/field_comparison.hpp"
#include "solver/study/state_summary.hpp"
#include "solver/uncertainty/distribution.hpp"

namespace tuft::study {

/// How far the field's own answer holds.
struct FieldSupport {
  bool refined = false;  ///< it was solved on two sizes of cells, and every vent keeps its role
  /// Largest difference of a net flow between the two sizes, over the through-flow [-]; with `refined` alone.
  double cell_change = 0.0;
  bool stable = false;  ///< no disturbance of the steady field grows, or it is a mean over whole swings
  double swing = 0.0;   ///< amplitude of the swings about a mean in time, over the through-flow [-]
  bool backed() const { return refined && stable; }
};

/// One condition's difference, field less network, and how much of it holds: a weight of 0 is the network's
/// answer, of 1 the field's. One weight for all vents, so that what enters still leaves.
struct FieldCorrection {
  /// Gross flows over the network's through-flow [-], temperature of the air that leaves [K].
  struct Vent {
    double inflow = 0.0, outflow = 0.0, temperature_out = 0.0;
    double velocity_per_share = 0.0;  ///< face velocity of a gross flow as large as the through-flow [m/s]
  };
  std::string key;                   ///< "model.field.bench"
  int condition = 0;                 ///< index into Case::conditions
  std::vector<Vent> vents;           ///< one per Device::vents
  uncertainty::Distribution weight;  ///< [-], >= 0
  std::vector<int> roles_differ;     ///< vents, leaks left out
  bool backed = false;               ///< the field's answer is taken, the network's is not
};

/// Differences of at most this share of the through-flow, with equal roles, count as agreement (judgement).
constexpr double kFieldAgrees = 0.01;

/// Whether network and field agree: every role is the same, and no gross flow is apart by more than
/// `kFieldAgrees`.
bool agrees(const geometry::Case& content, const FieldComparison& comparison);

/// The correction of a condition. The weight lies anywhere between network and field, 0 .. 1, equally likely
/// (judgement: each shares all laws with the other and has assumptions of its own). A field that is backed
/// decides: 1 +- h, where h is what its cells still change and how far the air swings about it, over what it
/// changes, at least a quarter (judgement: a field of layers is a model too) and at most 1. Throws
/// std::invalid_argument if nothing flows in the network.
FieldCorrection correction_of(const geometry::Case& content, int condition, const FieldComparison& comparison,
                              const FieldSupport& support);

/// Moves the flows of a state by `weight` of the correction, with its through-flow as measure, no gross flow
/// below zero; then through-flow and roles from the flows.
void apply(const FieldCorrection& correction, double weight, const geometry::RoleThresholds& thresholds,
           StateSummary& state);

}  // namespace tuft::study
