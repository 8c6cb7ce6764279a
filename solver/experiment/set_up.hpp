// A set-up whose measurement is true: found by computing candidates.
#pragma once

#include "solver/experiment/look.hpp"
#include "solver/experiment/variants.hpp"

namespace tuft::bench {

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
SetUps find_set_ups(const Aim& aim, const std::vector<Tried>& tried, const Responses& responses);

/// What would be seen of the vents in a condition as it lies, by the same looks and the same rule as a
/// set-up's: best tell-tale and distance; a vent that does something else there than in use shows nothing.
SetUp as_it_lies(const Aim& aim, const study::ConditionResult& result, const Responses& responses);

/// Mean over the vents of the chance of the answer that is so in use; 0 without vents.
double mean_right(const SetUp& set_up);

/// Follows the device from its warmth in use to rest in the set-up, and fills in the wait.
void add_wait(const geometry::Case& content, int use, SetUp& set_up);

}  // namespace tuft::bench
