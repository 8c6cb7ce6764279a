// A field run as the writers take it: finished, plain data; and what they make of it.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "solver/flow2d/layer_result.hpp"
#include "solver/flow2d/section_result.hpp"
#include "solver/study/refine.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/run.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {

/// What the network says when it is told what the slice found, and how the two came to agree.
struct FedBack {
  study::ConditionResult network;          ///< with the recirculation fractions found
  study::ConditionResult lowest, highest;  ///< with all of them at the ends of their uncertainty
  std::vector<double>
      apart;               ///< per round: how far the slice's fractions lay from those told, the largest [-]
  bool settled = false;    ///< the last of them is small enough
  double tolerance = 0.0;  ///< what small enough is [-]

  /// A number of the network at both ends of that uncertainty, the smaller first; none where an end has no
  /// solution.
  template <class NumberOf>
  std::optional<std::pair<double, double>> between(NumberOf number_of) const {
    if (!lowest.report.converged || !highest.report.converged) return std::nullopt;
    return std::minmax({number_of(lowest), number_of(highest)});
  }
};

/// A slice with the outside.
struct SectionRun {
  flow2d::SectionResult result;
  std::optional<FedBack> fed_back;
};

/// One condition by the network, by the plan layers, and how they compare.
struct FieldRun {
  Run run;            ///< of the one condition: run.conditions[0] is the network's result
  double cell = 0.0;  ///< side of a cell asked for [m]
  flow2d::PlanResult plan;
  study::FieldComparison comparison;
  std::optional<study::Refined> refined;
  std::optional<SectionRun> section;
};

/// The condition solved.
inline const study::ConditionResult& network_result(const FieldRun& field) {
  return field.run.conditions.front();
}
inline const geometry::Condition& condition_of(const FieldRun& field) {
  return at(field.run.content.conditions, network_result(field).condition);
}
inline const geometry::Pose& pose_of(const FieldRun& field) {
  return at(field.run.content.poses, condition_of(field).pose);
}

/// True where the fields hold the air's whole inertia.
inline bool is_whole(const FieldRun& field) { return field.plan.usable(); }

/// Whose flows of the vents the layers, the section and their drawings show: "field" where plan layers were
/// solved, else "network".
inline const char* flows_word(const FieldRun& field) {
  return field.comparison.vents.empty() ? "network" : "field";
}

/// What a vent does by those flows.
inline geometry::Role shown_role(const FieldRun& field, std::size_t vent) {
  return field.comparison.vents.empty() ? network_result(field).vents[vent].role
                                        : field.comparison.vents[vent].field.role;
}

/// What a reader has to know of the stability of a state; empty where a `steady` one is stable.
std::string stability_text(const flow2d::Steadiness& state, bool steady);

/// A header line, whether the roles agree and how far flows and temperatures are apart, what to mind about
/// the solution, and a row a vent. Ends with a newline.
std::string field_text(const FieldRun& field, const Look& look);

/// Where the section lies and why, how it was found, what intakes draw again of what outlets let out, and,
/// where that was fed back to the network, what it changed there. Ends with a newline. `field.section` is
/// set.
std::string section_text(const FieldRun& field, const Look& look);

/// "across x at 206 mm": where a plane lies.
std::string plane_words(const flow2d::Plane& plane, geometry::UnitSystem units);

/// The table with a header row that states the units; RFC 4180, numbers that read back exactly. Differences
/// are field less network.
std::string field_comparison_csv(const FieldRun& field);

/// The network's results of the condition as `tuft predict` writes them, with the field beside them: section
/// `field` and, at every vent of the condition, what role the field gives it. The same run gives the same
/// bytes. Throws NotFinite.
std::string field_json(const FieldRun& field, const Contents& contents);

/// Writes results.json, network-and-field.csv, a .vti a layer with its collection, streamlines and vents as
/// .vtp, and figures as SVG and PNG, whole or not at all (see ResultsFolder). Throws NotFinite, FolderError,
/// figure::PngError. Returns the names of the files written, in a fixed order.
std::vector<std::string> write_field(const FieldRun& field, const ResultsPlace& place);

}  // namespace tuft::io
