// A field run as the writers take it: finished, plain data.
#pragma once

#include <optional>
#include <vector>

#include "solver/study/agreement.hpp"
#include "solver/flow2d/layer_result.hpp"
#include "solver/flow2d/section_result.hpp"
#include "tools/io/run.hpp"

namespace tuft::output {

/// What the network says when it is told what the slice found, and how the two came to agree.
struct FedBack {
  study::ConditionResult network;          ///< with the re-entry fractions found
  study::ConditionResult lowest, highest;  ///< with all of them at the ends of their doubt
  std::vector<double>
      apart;               ///< per round: how far the slice's fractions lay from those told, the largest [-]
  bool settled = false;    ///< the last of them is small enough
  double tolerance = 0.0;  ///< what small enough is [-]
};

/// A slice with the outside.
struct SectionRun {
  section::SectionResult result;
  std::optional<FedBack> fed_back;
};

/// One condition by the network, by the plan layers, and how they compare.
struct FieldRun {
  Run run;            ///< of the one condition: run.conditions[0] is the network's result
  double cell = 0.0;  ///< side of a cell asked for [m]
  plan::PlanResult plan;
  agreement::Agreement agreement;
  std::optional<SectionRun> section;
};

/// The condition solved.
inline const study::ConditionResult& network_result(const FieldRun& field) {
  return field.run.conditions.front();
}
inline const geometry::Condition& condition_of(const FieldRun& field) {
  return field.run.content.conditions[static_cast<std::size_t>(network_result(field).condition)];
}
inline const geometry::Pose& pose_of(const FieldRun& field) {
  return field.run.content.poses[static_cast<std::size_t>(condition_of(field).pose)];
}

/// True where the fields hold the air's whole inertia.
inline bool is_whole(const FieldRun& field) { return field.plan.usable(); }

/// Throws NotFinite when a number of the field is not finite.
void require_finite(const FieldRun& field);

}  // namespace tuft::output
