// Conditions made up for the bench: other loads, poses and supports of the same device.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"

namespace tuft::bench {

/// Adds a load without heat to the case, each fan held at a speed: at full speed, or as it was in a solved
/// condition. Returns its index; an equal name is made unique.
int add_cold_full(geometry::Case& content);
int add_cold_as(geometry::Case& content, const study::ConditionResult& result, const std::string& name);

/// Index of the pose of that name in the case, or of a known word, which is added; -1: neither.
int find_or_add_pose(geometry::Case& content, const std::string& name);
/// Index of the support "air" (hung, nothing near), added if need be.
int add_air(geometry::Case& content);

/// Adds a condition, or finds an equal one; returns its index.
int add_condition(geometry::Case& content, const geometry::Condition& wanted);

/// One way to set the device up.
struct Candidate {
  int condition = 0;
  bool cold = false;
};

/// Candidates for a set-up: the use and the bench condition as they lie, and every known pose hung free, each
/// under the loads of use and bench and without load, fans at full speed and fans as in use. No condition
/// stands twice.
std::vector<Candidate> add_candidates(geometry::Case& content, int bench, int use,
                                      const study::ConditionResult& use_result);

}  // namespace tuft::bench
