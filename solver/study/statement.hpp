// What a claim states, evaluated on plain views: the one definition of its truth.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/state_summary.hpp"

namespace tuft::study {

/// How far a claim is from turning: >= 0 exactly where it is true, continuous in flows and temperatures
/// (docs/theory.md, D19). Logarithms of ratios [-] for flows, shares and roles; [K] for temperatures. Finite.
/// `views[i]` is condition i. @pre the claim's conditions are solved.
double margin(const geometry::Case& content, const geometry::Claim& claim,
              const std::vector<StateSummary>& views);

/// The same with other lines between the roles than those of the case.
double margin(const geometry::RoleThresholds& thresholds, const geometry::Device& device,
              const geometry::Claim& claim, const std::vector<StateSummary>& views);

/// True where the margin is not negative.
bool is_true(const geometry::Case& content, const geometry::Claim& claim,
             const std::vector<StateSummary>& views);

/// Whether the states can tell if the claim is true: not where one that it speaks of is stagnant, unless the
/// claim asks for a temperature below a limit, and it is, or is about flows that a field has decided. @pre
/// the claim's conditions are solved.
bool can_be_told(const geometry::Case& content, const geometry::Claim& claim,
                 const std::vector<StateSummary>& views);

/// True if a claim says what role vents have, or that it changes.
bool is_about_roles(geometry::ClaimKind kind);

/// True if every condition the claim speaks of has a solution.
bool is_solved(const geometry::Claim& claim, const std::vector<StateSummary>& views);

/// How far a vent is from having, or losing, a role; > 0 exactly where it has it [-]. `through_flow` of the
/// whole device [kg/s].
double role_margin(const VentSummary& vent, double through_flow, geometry::Role role,
                   const geometry::RoleThresholds& thresholds);

/// The number a reader wants to see behind a claim.
struct Behind {
  enum class Unit { share, factor, temperature, difference } unit = Unit::share;
  double value = 0.0;  ///< share of the through-flow [-] (of one vent: net, + into the device), factor of a
                       ///< comparison or change of flow [-], temperature [K], difference of temperatures [K]
};

/// Roles: the net flow of the vent whose margin decides, over the through-flow; of two conditions the one the
/// claim is about. Comparison: ours over theirs. Change of flow: now over then. Factors are at most 1e6.
/// @pre the claim's conditions are solved.
Behind behind(const geometry::Case& content, const geometry::Claim& claim,
              const std::vector<StateSummary>& views);

/// Temperature of what a claim about heat is about [K].
double temperature_of(const geometry::Device& device, const geometry::Place& of, const StateSummary& view);

/// Gross flow into the device, or out of it, through some vents together [kg/s].
double total_flow(const std::vector<int>& vents, const StateSummary& view, bool inflow);

/// Flow through some vents together: the larger of all that goes in and all that comes out; without vents the
/// through-flow [kg/s].
double carried(const std::vector<int>& vents, const StateSummary& view);

/// Share of all that enters, or of all that leaves, which some vents together carry, the larger [-], 0..1.
/// Where the model's uncertainty scales single flows the two sums differ, and neither measures the other's
/// vents.
double carried_share(const std::vector<int>& vents, const StateSummary& view);

/// True if the vents a comparison or a change of flow looks at pass as good as nothing: then it decides
/// nothing.
bool nothing_moves(const geometry::RoleThresholds& thresholds, const geometry::Claim& claim,
                   const std::vector<StateSummary>& views);

}  // namespace tuft::study
