#include "solver/experiment/room_doubt.hpp"

#include <algorithm>
#include <numeric>

#include "geometry/device/lists.hpp"

namespace tuft::experiment {
namespace {

constexpr std::size_t kFewest = 400;  // solved samples, so that a tenth says something (judgement)
constexpr std::size_t kShare = 10;    // one in so many is looked at (judgement)

bool starts_with(const std::string& text, const std::string& start) {
  return text.compare(0, start.size(), start) == 0;
}

// Sum of squares of some inputs in every one of these samples; empty without such inputs.
template <typename Counts>
std::vector<double> size_of(const study::Ensemble& sample, const std::vector<std::size_t>& solved,
                            const Counts& counts) {
  std::vector<Eigen::Index> columns;
  for (std::size_t i = 0; i < sample.inputs.size(); ++i)
    if (counts(sample.inputs[i].key)) columns.push_back(static_cast<Eigen::Index>(i));
  if (columns.empty()) return {};
  std::vector<double> sizes(solved.size(), 0.0);
  for (std::size_t k = 0; k < solved.size(); ++k)
    for (const Eigen::Index column : columns) {
      const double value = sample.values(static_cast<Eigen::Index>(solved[k]), column);
      sizes[k] += value * value;
    }
  return sizes;
}

// Place of each among all, from 0 for the smallest; of equals the earlier first.
std::vector<std::size_t> ranks_of(const std::vector<double>& sizes) {
  std::vector<std::size_t> order(sizes.size()), ranks(sizes.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return sizes[a] < sizes[b]; });
  for (std::size_t place = 0; place < order.size(); ++place) ranks[order[place]] = place;
  return ranks;
}

// How often the claim is true among the tenth with the smallest ranks.
RoomDoubt among_smallest(const std::vector<std::size_t>& ranks, const std::vector<bool>& is_true) {
  std::vector<std::size_t> order(ranks.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return ranks[a] < ranks[b]; });
  RoomDoubt out;
  out.samples = static_cast<int>(ranks.size() / kShare);
  for (int k = 0; k < out.samples; ++k) out.true_there += is_true[order[k]] ? 1.0 : 0.0;
  out.true_there /= out.samples;
  return out;
}

// Keys of the tilts of what a claim's devices rest on.
std::vector<std::string> tilts_of(const geometry::Case& content, const geometry::Claim& claim) {
  std::vector<std::string> starts;
  for (const int condition : geometry::conditions_of(claim))
    starts.push_back("supports." + content.supports[content.conditions[condition].support].name + ".tilt.");
  return starts;
}

RoomDoubt doubt_of(const geometry::Case& content, int index, const geometry::Claim& placed,
                   const study::Ensemble& sample, const uncertainty::VerdictRule& rule) {
  std::vector<std::size_t> solved;
  std::vector<bool> is_true;
  for (std::size_t i = 0; i < sample.views.size(); ++i) {
    if (!study::is_solved(placed, sample.views[i])) continue;
    solved.push_back(i);
    is_true.push_back(study::is_true(content, placed, sample.views[i]));
  }
  if (solved.size() < kFewest) return {};
  const std::vector<std::string> tilts = tilts_of(content, content.claims[index]);
  const auto is_of_claim = [&](const std::string& key) {
    return std::any_of(tilts.begin(), tilts.end(),
                       [&](const std::string& start) { return starts_with(key, start); });
  };
  // The direction of a draught that hardly moves does not matter.
  const auto air = ranks_of(
      size_of(sample, solved, [](const std::string& key) { return key == "room.draught.speed"; }));
  const auto tilt = ranks_of(size_of(sample, solved, is_of_claim));
  const auto settles = [&](const std::vector<std::size_t>& ranks, RoomSettles what, RoomDoubt* found) {
    if (found->settled_by != RoomSettles::nothing || ranks.empty()) return;
    RoomDoubt here = among_smallest(ranks, is_true);
    if (here.true_there < rule.holds_from && here.true_there > rule.fails_to) return;
    here.settled_by = what;
    *found = here;
  };
  RoomDoubt found;
  settles(air, RoomSettles::still_air, &found);
  settles(tilt, RoomSettles::level_support, &found);
  if (air.empty() || tilt.empty()) return found;
  std::vector<std::size_t> both(air.size());
  std::transform(air.begin(), air.end(), tilt.begin(), both.begin(),
                 [](std::size_t a, std::size_t b) { return std::max(a, b); });
  settles(both, RoomSettles::both, &found);
  return found;
}

}  // namespace

bool is_draught_input(const std::string& key) { return starts_with(key, "room.draught."); }

bool is_tilt_input(const std::string& key) {
  return starts_with(key, "supports.") &&
         (geometry::ends_with(key, ".tilt.x") || geometry::ends_with(key, ".tilt.y"));
}

void tell_room_doubt(const geometry::Case& content, const Questions& questions, const study::Ensemble& sample,
                     std::vector<ClaimProbability>& claims, const uncertainty::VerdictRule& rule) {
  for (std::size_t c = 0; c < claims.size(); ++c)
    if (claims[c].verdict == uncertainty::Verdict::undecided)
      claims[c].room = doubt_of(content, claims[c].claim, questions.placed[c], sample, rule);
}

}  // namespace tuft::experiment
