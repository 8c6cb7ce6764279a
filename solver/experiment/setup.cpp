#include "solver/experiment/setup.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "solver/network/warm_up.hpp"
#include "solver/physics/background_air.hpp"

namespace tuft::experiment {
namespace {

constexpr double kSame = 0.02;       // scores nearer than this are alike
constexpr double kApartGain = 0.1;   // from which a vent gets a set-up of its own
constexpr double kShareBand = 0.15;  // of a share, where sizes count (judgement)
constexpr double kTriedDistances[] = {0.02, 0.01, 0.04};
constexpr std::size_t kLookedAt = 3;

double gains(const LookAt& look) { return look.right - 0.5 * look.wrong; }

/// How near a vent's share is to that in use; 1 where only signs count.
double likeness(const Aim& aim, const study::ConditionResult& result, int vent) {
  if (!aim.sizes_count) return 1.0;
  return std::exp(-std::abs(vent_of(result, vent).share - vent_of(aim.use, vent).share) / kShareBand);
}

LookAt look(const Aim& aim, const study::ConditionResult& result, const OutsideAir& air,
            const Responses& responses, int vent, const NamedTellTale& cut, double distance) {
  const geometry::Role in_use = vent_of(aim.use, vent).role;
  const geometry::Vent& described = aim.content.device.vents[vent];
  Probe probe;
  probe.vent = vent;
  probe.distance = distance;
  LookAt seen = look_at(aim.content, result, air, responses, cut, probe,
                        parts_of(described, air.gravity(), vent_of(result, vent).role, in_use), in_use);
  // A vent that does something else there than in use can be seen to do what it does in use by chance alone.
  if (vent_of(result, vent).role != in_use) seen.right = 0.0;
  return seen;
}

LookAt usual_look(const Aim& aim, const study::ConditionResult& result, const OutsideAir& air,
                  const Responses& responses, int vent) {
  if (out_of_reach(vent_of(result, vent), kUsualDistance)) return {};
  const auto& described = aim.content.device.vents[vent];
  const bool level = mounting_of(described.face, air.gravity()).attitude == Attitude::level;
  return look(aim, result, air, responses, vent, *find_tell_tale(level ? "tissue-40-level" : "tissue-60"),
              kUsualDistance);
}

/// The best tell-tale that hangs quiet, and its distance; the earlier of those alike. Where all flutter there
/// is none, and `flutters` says so.
LookAt best_look(const Aim& aim, const study::ConditionResult& result, const OutsideAir& air,
                 const Responses& responses, int vent) {
  LookAt best;
  for (const double distance : kTriedDistances) {
    if (out_of_reach(vent_of(result, vent), distance)) continue;
    for (const NamedTellTale& cut : tell_tale_kit()) {
      if (!cut.advised) continue;
      const LookAt one = look(aim, result, air, responses, vent, cut, distance);
      if (one.chances.empty()) continue;
      if (one.flutters) {
        if (best.cut == nullptr) best.flutters = true;
        continue;
      }
      if (best.cut == nullptr || gains(one) > gains(best) + kSame) best = one;
    }
  }
  return best;
}

SetUpVent described(const study::ConditionResult& result, int vent, const LookAt& look) {
  SetUpVent one;
  one.vent = vent;
  one.cut = look.cut;
  one.distance = look.distance;
  one.right = look.right;
  one.wrong = look.wrong;
  one.all_flutter = look.cut == nullptr && look.flutters;
  one.both_parts = look.parts.size() > 1;
  one.role = vent_of(result, vent).role;
  for (std::size_t p = 0; p < look.speeds.size(); ++p) {
    if (std::abs(look.speeds[p]) < std::abs(one.signal)) continue;
    one.signal = look.speeds[p];
    one.lean = look.leans[p];
  }
  return one;
}

/// Distance from which breath is slower than a third of a signal; where it ends at the latest.
double breath_distance(double signal, double room) {
  constexpr double reach = 0.8, least = 0.1, step = 0.05;
  for (double x = least; x < reach; x += step)
    if (physics::breath(x, room).speed.nominal <= std::abs(signal) / 3.0) return x;
  return reach;
}

SetUp setup_of(const Aim& aim, const Tried& tried, const std::vector<int>& vents,
               const Responses& responses) {
  SetUp made;
  made.condition = tried.candidate.condition;
  made.cold = tried.candidate.cold;
  const OutsideAir air(aim.content, tried.result);
  double weakest = 1e9;
  for (const int vent : vents) {
    const LookAt look = best_look(aim, tried.result, air, responses, vent);
    made.vents.push_back(described(tried.result, vent, look));
    made.score += gains(look) * likeness(aim, tried.result, vent) / static_cast<double>(vents.size());
    if (look.cut != nullptr && vent_of(aim.use, vent).role != geometry::Role::idle)
      weakest = std::min(weakest, std::abs(made.vents.back().signal));
  }
  made.breath_from = breath_distance(weakest < 1e9 ? weakest : 0.0, air.room());
  return made;
}

/// Candidates in the order of their scores for some vents; those alike in the order of the list.
std::vector<std::size_t> ranked(const std::vector<std::vector<double>>& scores,
                                const std::vector<std::size_t>& columns) {
  std::vector<double> sums(scores.size(), 0.0);
  for (std::size_t c = 0; c < scores.size(); ++c)
    for (const std::size_t v : columns) sums[c] += scores[c][v] / static_cast<double>(columns.size());
  std::vector<std::size_t> order(scores.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::floor(sums[a] / kSame) > std::floor(sums[b] / kSame);
  });
  return order;
}

SetUp best_for(const Aim& aim, const std::vector<Tried>& tried,
               const std::vector<std::vector<double>>& scores, const std::vector<std::size_t>& columns,
               const Responses& responses) {
  std::vector<int> vents;
  for (const std::size_t v : columns) vents.push_back(aim.vents[v]);
  const auto order = ranked(scores, columns);
  SetUp best;
  for (std::size_t i = 0; i < std::min(kLookedAt, order.size()); ++i) {
    const Tried& one = tried[order[i]];
    if (!one.result.report.converged) continue;
    const SetUp made = setup_of(aim, one, vents, responses);
    if (best.condition < 0 || made.score > best.score + kSame) best = made;
  }
  return best;
}

}  // namespace

SetUps find_setups(const Aim& aim, const std::vector<Tried>& tried, const Responses& responses) {
  std::vector<std::vector<double>> scores(tried.size(), std::vector<double>(aim.vents.size(), -1.0));
  const int count = static_cast<int>(tried.size());
#pragma omp parallel for schedule(dynamic)
  for (int c = 0; c < count; ++c) {
    const Tried& one = tried[c];
    if (!one.result.report.converged) continue;
    const OutsideAir air(aim.content, one.result);
    for (std::size_t v = 0; v < aim.vents.size(); ++v)
      scores[c][v] = gains(usual_look(aim, one.result, air, responses, aim.vents[v])) *
                     likeness(aim, one.result, aim.vents[v]);
  }
  SetUps found;
  std::vector<std::size_t> all(aim.vents.size());
  std::iota(all.begin(), all.end(), 0);
  found.common = best_for(aim, tried, scores, all, responses);
  if (found.common.condition < 0) return found;
  // Vents it shows badly that another set-up shows better; those with the same one together.
  for (const SetUpVent& shown : found.common.vents) {
    const auto column = static_cast<std::size_t>(std::find(aim.vents.begin(), aim.vents.end(), shown.vent) -
                                                 aim.vents.begin());
    const SetUp own = best_for(aim, tried, scores, {column}, responses);
    if (own.condition < 0 || own.vents.front().right < shown.right + kApartGain) continue;
    const auto same = std::find_if(found.apart.begin(), found.apart.end(),
                                   [&](const SetUp& other) { return other.condition == own.condition; });
    if (same == found.apart.end()) {
      found.apart.push_back(own);
    } else {
      same->vents.push_back(own.vents.front());
      same->breath_from = std::max(same->breath_from, own.breath_from);
    }
  }
  return found;
}

SetUp as_it_lies(const Aim& aim, const study::ConditionResult& result, const Responses& responses) {
  return setup_of(aim, {{result.condition, false}, result}, aim.vents, responses);
}

double mean_right(const SetUp& setup) {
  double right = 0.0;
  for (const SetUpVent& vent : setup.vents) right += vent.right / static_cast<double>(setup.vents.size());
  return right;
}

void add_wait(const geometry::Case& content, int use, SetUp& setup) {
  if (setup.condition < 0) return;
  if (setup.condition == use) {
    setup.wait_known = true;
    return;
  }
  network::Plan plan;
  plan.condition = setup.condition;
  plan.from = use;
  const network::WarmUp run = network::warm_up(content, plan);
  if (!run.settling.known || run.capacities != network::Capacities::known) return;
  setup.wait_known = true;
  setup.wait = run.settling.overall;
  setup.wait_flow = run.settling.flow;
}

}  // namespace tuft::experiment
