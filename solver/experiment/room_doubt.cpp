#include "solver/experiment/room_doubt.hpp"

#include <algorithm>

namespace tuft::experiment {
namespace {

constexpr int kReplicates = 4, kSamples = 256;  // enough to tell 95 % from 90 % (judgement)

// The case with some of its inputs held at zero; false where it has none of them.
template <typename Held>
bool hold_at_zero(geometry::Case& content, const Held& is_held) {
  bool any = false;
  for (geometry::Input& input : content.inputs) {
    if (!is_held(input.key)) continue;
    input.prior = geometry::Value(0.0);
    any = true;
  }
  return any;
}

// Tells of the claims that are still untold what holding inputs at zero makes of them.
void tell(const geometry::Case& held, const std::vector<study::FieldCorrection>& corrections,
          std::uint64_t seed, RoomSettles what, const uncertainty::VerdictRule& rule,
          std::vector<ClaimProbability*>& untold) {
  std::vector<int> claims;
  for (const ClaimProbability* claim : untold) claims.push_back(claim->claim);
  const Questions questions = questions_of(held, claims);
  const study::Sampler sampler(held, questions.conditions, corrections);
  const uncertainty::Replicates replicates(static_cast<int>(sampler.inputs().size()), kReplicates, seed);
  const study::Batch batch = sampler.run(replicates.points(0, kSamples));
  std::vector<ClaimProbability*> left;
  for (std::size_t c = 0; c < untold.size(); ++c) {
    RoomDoubt doubt;
    doubt.settled_by = what;
    for (const auto& views : batch.views) {
      if (!study::is_solved(questions.placed[c], views)) continue;
      ++doubt.samples;
      if (study::is_true(held, questions.placed[c], views)) doubt.true_there += 1.0;
    }
    doubt.true_there /= std::max(doubt.samples, 1);
    const bool settled = doubt.true_there >= rule.holds_from || doubt.true_there <= rule.fails_to;
    if (settled && doubt.samples >= (1.0 - kMostUnsolved) * kSamples)
      untold[c]->room = doubt;
    else
      left.push_back(untold[c]);
  }
  untold = left;
}

}  // namespace

void tell_room_doubt(const geometry::Case& content, const std::vector<study::FieldCorrection>& corrections,
                     std::uint64_t seed, std::vector<ClaimProbability>& claims,
                     const uncertainty::VerdictRule& rule) {
  std::vector<ClaimProbability*> untold;
  for (ClaimProbability& claim : claims)
    if (claim.verdict == uncertainty::Verdict::undecided && claim.unsolved <= kMostUnsolved)
      untold.push_back(&claim);
  geometry::Case still = content, level = content, both = content;
  const bool air = hold_at_zero(still, study::is_draught_input);
  const bool tilt = hold_at_zero(level, study::is_tilt_input);
  hold_at_zero(both, study::is_draught_input);
  hold_at_zero(both, study::is_tilt_input);
  if (air && !untold.empty()) tell(still, corrections, seed, RoomSettles::still_air, rule, untold);
  if (tilt && !untold.empty()) tell(level, corrections, seed, RoomSettles::level_support, rule, untold);
  if (air && tilt && !untold.empty()) tell(both, corrections, seed, RoomSettles::both, rule, untold);
}

}  // namespace tuft::experiment
