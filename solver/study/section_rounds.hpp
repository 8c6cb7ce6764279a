// Section and network by turns, until what intakes draw again no longer changes.
#pragma once

#include <vector>

#include "solver/flow2d/section_solve.hpp"
#include "solver/study/result.hpp"

namespace tuft::study {

struct RoundsOptions {
  double tolerance = 0.005;  ///< largest change of a fraction that is none [-]
  int most = 6;              ///< rounds
  double relaxation = 0.8;   ///< how far a fraction goes from the network's to the section's, after the first
  flow2d::SectionOptions section;
};

/// What a round of both gave.
struct Rounds {
  flow2d::SectionResult section;  ///< of the last round
  ConditionResult network;        ///< told the fractions of the round before it
  /// The network with all fractions at the lowest and at the highest of their uncertainty; not converged
  /// where the last one is not.
  ConditionResult lowest, highest;
  /// Per round: how far the section's fractions lay from those the network was told, the largest [-].
  std::vector<double> apart;
  bool settled = false;  ///< the last of them is within the tolerance
};

/// Solves the section with what the network found, tells the network the fractions, and again (docs/field.md,
/// F34), in the plane of the first round. Ends when they settle, after `most` rounds, or where one of the two
/// is not found. `first` is the condition's solution by the network; throws std::invalid_argument when it has
/// none, and as solve_section does.
Rounds recirculation_rounds(const geometry::Case& content, const ConditionResult& first,
                            const RoundsOptions& options = {});

}  // namespace tuft::study
