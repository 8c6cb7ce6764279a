// How likely each claim is, with the numbers behind it.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "solver/experiment/question.hpp"
#include "solver/uncertainty/probability.hpp"
#include "solver/study/statement.hpp"

namespace tuft::belief {

/// Solved samples with their weights.
struct Sample {
  const std::vector<std::vector<study::View>>& views;  ///< [sample][place in Questions::conditions]
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

/// What is believed of one claim.
struct ClaimBelief {
  int claim = 0;  ///< index into Case::claims
  doubt::Probability probability;
  doubt::Verdict verdict = doubt::Verdict::cannot_tell;
  bool settled = false;  ///< more samples will hardly turn the verdict
  study::Behind::Unit unit = study::Behind::Unit::share;
  double median = 0.0;         ///< of the number behind the claim
  doubt::Interval interval;    ///< central 90 % of it
  std::vector<RoleOdds> odds;  ///< claims about roles: one a vent
  Evidence evidence;
  double unsolved = 0.0;  ///< share of the samples without a solution; they decide nothing
};

/// Roles of one vent in one condition. `place` counts in Questions::conditions.
/// @pre some sample has weight, and all of these are solved there.
RoleOdds role_odds(const Sample& sample, int place, int vent);

/// Level of `ClaimBelief::interval`.
constexpr double kShownLevel = 0.9;
/// Share of unsolved samples from which no verdict is given (judgement).
constexpr double kMostUnsolved = 0.05;

/// One belief a question, by the samples that have a solution of what it speaks of. Where more than
/// kMostUnsolved of them have none nothing can be told.
/// Throws std::invalid_argument as doubt::count_replicates does.
std::vector<ClaimBelief> beliefs(const geometry::Case& content, const Questions& questions,
                                 const Sample& sample, const doubt::VerdictRule& rule = {});

}  // namespace tuft::belief
