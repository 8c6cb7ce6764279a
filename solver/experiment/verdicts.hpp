// The claims of a case as questions to a sample of it: how likely each is, with the numbers behind it, and
// how sure what each vent does is.
#pragma once

#include <array>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/state_summary.hpp"
#include "solver/study/statement.hpp"
#include "solver/uncertainty/probability.hpp"

namespace tuft::experiment {

/// Claims of a case, and the conditions they need, ready to be asked of the views of many samples.
struct Questions {
  std::vector<int> claims;      ///< indices into Case::claims
  std::vector<int> conditions;  ///< indices into Case::conditions, rising: the order of the views
  /// The claims with their conditions counted in `conditions`, so that views need not be copied about.
  std::vector<geometry::Claim> placed;
};

/// Questions for some claims; the conditions in which their evidence was seen, and `also`, are added.
/// @pre indices within the case.
Questions questions_of(const geometry::Case& content, const std::vector<int>& claims,
                       const std::vector<int>& also = {});

/// Place of a condition in the questions' order; -1: not among them.
int place_of(const Questions& questions, int condition);

/// 1 or 0 for each question. @pre all conditions are solved.
std::vector<double> truths(const geometry::Case& content, const Questions& questions,
                           const std::vector<study::StateSummary>& views);

/// Solved samples with their weights.
struct Sample {
  const std::vector<std::vector<study::StateSummary>>& views;  ///< [sample][place in Questions::conditions]
  const std::vector<double>&
      weights;         ///< >= 0; samples that a claim has no solution in count for nothing there
  int replicates = 2;  ///< sample k belongs to replicate k mod replicates
};

/// How often one vent has each role in the condition a claim is about.
struct RoleOdds {
  int vent = 0;
  std::array<double, 4> probability{};  ///< by the value of geometry::Role
  double flow = 0.0;                    ///< median of the net flow over the through-flow [-], + in
};

/// A claim that rests on evidence from another condition.
struct Evidence {
  int condition = -1;  ///< index into Case::conditions; -1: there is none, or it is the claim's own
  double there = 0.0;  ///< probability that the statement is true in that condition
  double same = 0.0;   ///< probability that it is as true there as where the claim speaks of
};

/// What of the room would settle a claim that can't be told.
enum class RoomSettles { nothing, still_air, level_support, both };
constexpr std::array<const char*, 4> words(RoomSettles) {
  return {"nothing", "still-air", "level-support", "both"};
}
struct RoomDoubt {
  RoomSettles settled_by = RoomSettles::nothing;
  double true_there = 0.0;  ///< share of the samples with such air, or such a support, in which it is true
  int samples = 0;          ///< how many these are
};

/// What is known of one claim.
struct ClaimProbability {
  int claim = 0;  ///< index into Case::claims
  uncertainty::Probability probability;
  uncertainty::Verdict verdict = uncertainty::Verdict::undecided;
  bool settled = false;  ///< more samples will hardly turn the verdict
  study::Behind::Unit unit = study::Behind::Unit::share;
  double median = 0.0;             ///< of the number behind the claim
  uncertainty::Interval interval;  ///< central 90 % of it
  std::vector<RoleOdds> odds;      ///< claims about roles: one a vent
  Evidence evidence;
  RoomDoubt room;
  double unsolved = 0.0;  ///< share of the samples without a solution; they decide nothing
  /// The network alone was asked, and it is unsure in a condition that the claim needs: the verdict is
  /// undecided whatever the probability, and the field's to give.
  bool left_to_field = false;
  double untold = 0.0;  ///< share in which hardly any air passes, so that the claim can't be told (R4)
};

/// Roles of one vent in one condition. `place` counts in Questions::conditions.
/// @pre some sample has weight, and all of these are solved there.
RoleOdds role_odds(const Sample& sample, int place, int vent);

/// Level of `ClaimBelief::interval`.
constexpr double kShownLevel = 0.9;
/// Share of unsolved samples, and of untold ones, from which no verdict is given (judgement).
constexpr double kMostUnsolved = 0.05;

/// One probability a question, by the samples that have a solution of what it speaks of. Where more than
/// kMostUnsolved of them have none nothing can be told.
/// Throws std::invalid_argument as uncertainty::count_replicates does.
std::vector<ClaimProbability> probabilities(const geometry::Case& content, const Questions& questions,
                                            const Sample& sample, const uncertainty::VerdictRule& rule = {});

/// What the samples say of one vent.
struct VentRange {
  RoleOdds odds;
  double net_median = 0.0;    ///< of the net flow [kg/s], + in
  uncertainty::Interval net;  ///< central kShownLevel of it [kg/s]
};

/// The same of all vents, leaks among them, in one condition.
struct ConditionRanges {
  int condition = 0;             ///< index into Case::conditions
  double unsolved = 0.0;         ///< share of the samples that have no solution here; they decide nothing
  std::vector<VentRange> vents;  ///< in the order of Device::vents; empty where no sample has a solution
};

/// One entry a condition of the questions, in their order.
std::vector<ConditionRanges> ranges(const geometry::Case& content, const Questions& questions,
                                    const Sample& sample);

}  // namespace tuft::experiment
