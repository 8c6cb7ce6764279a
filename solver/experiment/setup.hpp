// Conditions made up for the bench (other loads, poses and supports of the same device), a set-up among them
// whose measurement is true, and the device turned from pose to pose.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/experiment/bench_report.hpp"
#include "solver/experiment/look.hpp"
#include "solver/study/result.hpp"

namespace tuft::experiment {

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

/// What a set-up is sought for.
struct Aim {
  const geometry::Case& content;  ///< with all candidates in it
  const study::ConditionResult& use;
  std::vector<int> vents;    ///< to be shown
  bool sizes_count = false;  ///< the claim is about shares or amounts: they must be near those in use
};

/// One candidate, solved.
struct Tried {
  Candidate candidate;
  study::ConditionResult result;
};

struct SetUps {
  SetUp common;
  std::vector<SetUp> apart;
};

/// The best candidate for all vents together and better ones for those it does not show. A candidate's score
/// is the mean over the vents of the chance of the right answer less half that of a wrong direction, with
/// the tissue strip at 20 mm; the three best are looked at with every advised tell-tale at 10, 20 and 40 mm.
/// In favour of the earlier one (use before bench, cold before hot) a difference below 0.02 does not count
/// (judgement; docs/theory.md, I23). No wait: that is for `add_wait`.
SetUps find_setups(const Aim& aim, const std::vector<Tried>& tried, const Responses& responses);

/// What would be seen of the vents in a condition as it lies, by the same looks and the same rule as a
/// set-up's: best tell-tale and distance; a vent that does something else there than in use shows nothing.
SetUp as_it_lies(const Aim& aim, const study::ConditionResult& result, const Responses& responses);

/// Mean over the vents of the chance of the answer that is so in use; 0 without vents.
double mean_right(const SetUp& setup);

/// Follows the device from its warmth in use to rest in the set-up, and fills in the wait.
void add_wait(const geometry::Case& content, int use, SetUp& setup);

/// Solves the bench condition turned from one pose to another by the shortest way, every 15 degrees, and
/// narrows each change of role down to 2 degrees. Poses that are the same: a turn about the device's y axis
/// by 90 degrees instead.
PoseSweep sweep_pose(const geometry::Case& content, int condition, const geometry::Pose& from,
                     const geometry::Pose& to);

/// Tilts the bench pose by `kAskew` about the world's two level axes, both ways, and says what that does to
/// each vent. Tilts without a solution are left out.
std::vector<TiltError> pull_by_tilt(const geometry::Case& content, const study::ConditionResult& bench);

}  // namespace tuft::experiment
