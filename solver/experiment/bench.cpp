#include <algorithm>
#include <cmath>

#include "solver/experiment/bench_report.hpp"
#include "solver/experiment/look.hpp"
#include "solver/experiment/setup.hpp"
#include "solver/study/words.hpp"

namespace tuft::experiment {
namespace {

using geometry::ClaimKind;

bool counts_sizes(ClaimKind kind) {
  return kind == ClaimKind::draws_more || kind == ClaimKind::gives_more || kind == ClaimKind::share;
}

std::vector<int> asked_vents(const geometry::Case& content, int claim) {
  std::vector<int> vents;
  if (claim >= 0) {
    const geometry::Claim& wanted = content.claims[claim];
    vents = wanted.vents;
    vents.insert(vents.end(), wanted.than.begin(), wanted.than.end());
    std::sort(vents.begin(), vents.end());
    vents.erase(std::unique(vents.begin(), vents.end()), vents.end());
    if (!vents.empty()) return vents;  // else it speaks of the whole device, or of its warmth
  }
  for (std::size_t v = 0; v < content.device.vents.size(); ++v)
    if (!content.device.vents[v].is_leak) vents.push_back(static_cast<int>(v));
  return vents;
}

std::vector<Mounting> all_mountings(const geometry::Case& content) {
  std::vector<Mounting> mountings;
  for (const geometry::Pose& pose : content.poses)
    for (const geometry::Vent& vent : content.device.vents)
      if (!vent.is_leak) mountings.push_back(mounting_of(vent.face, physics::standard_gravity * pose.down()));
  return mountings;
}

/// The strip that shows most at a vent, bent in the real field.
void add_bent(const geometry::Case& content, const study::ConditionResult& result, const OutsideAir& air,
              const Responses& responses, const VentSummary& view, geometry::Role role,
              const SectionAir* section, std::vector<Bent>& all) {
  if (out_of_reach(result.vents[view.vent], kUsualDistance)) return;
  const geometry::Vent& vent = content.device.vents[view.vent];
  const Mounting mounting = mounting_of(vent.face, air.gravity());
  const NamedTellTale& cut =
      *find_tell_tale(mounting.attitude == Attitude::level ? "tissue-40-level" : "tissue-60");
  if (responses.of(cut, mounting) == nullptr) return;
  for (const Part part : parts_of(vent, air.gravity(), role, role)) {
    const Vec3 place = place_before(vent, air.gravity(), kUsualDistance, part);
    const physics::Hanging hanging = hang(cut, vent.face, air, place);
    const auto still = physics::deflect_in_even_air(cut.body, hanging, 0.0);
    const bool read = section != nullptr && section->cuts(view.vent) && section->holds(hanging);
    const auto blown = physics::deflect(cut.body, hanging, [&](const Vec3& at) {
      return read ? section->velocity(at) : air.at(at).velocity;
    });
    if (!still.converged || !blown.converged) continue;  // it moves all the time: no shape to draw
    all.push_back({&cut, view.vent, part, still.shape, blown.shape, blown.lean,
                   physics::look(std::abs(blown.lean), viewing_of(cut)).seen});
  }
}

void add_claims(Report& report) {
  const geometry::Case& content = report.content;
  for (std::size_t c = 0; c < content.claims.size(); ++c) {
    const geometry::Claim& claim = content.claims[c];
    const bool wanted = report.claim < 0 ? claim.when == report.use : static_cast<int>(c) == report.claim;
    if (!wanted || claim.against >= 0 || claim.when != report.use) continue;
    std::vector<study::ConditionResult> results(content.conditions.size());
    ClaimView view;
    view.claim = static_cast<int>(c);
    results[claim.when] = report.use_result;
    view.in_use = study::judge(content, view.claim, results);
    results[claim.when] = report.bench_result;
    view.at_bench = study::judge(content, view.claim, results);
    report.claims.push_back(view);
  }
}

std::string win_words(const Report& report) {
  return "best of " + std::to_string(report.candidates) +
         " computed: the right answer for use with a probability of " +
         study::percent(mean_right(report.common)) + " per vent, against " +
         study::percent(report.bench_right) + " in the bench condition";
}

void add_setups(const Question& question, const Responses& responses, const std::vector<Tried>& tried,
                Report& report) {
  const bool sizes = question.claim >= 0 && counts_sizes(report.content.claims[question.claim].kind);
  const Aim aim{report.content, report.use_result, report.asked, sizes};
  SetUps found = find_setups(aim, tried, responses);
  report.common = found.common;
  report.apart = found.apart;
  report.candidates = static_cast<int>(tried.size());
  report.bench_right = mean_right(as_it_lies(aim, report.bench_result, responses));
  if (report.common.condition >= 0) report.common.why = win_words(report);
  add_wait(report.content, report.use, report.common);
  for (SetUp& one : report.apart) add_wait(report.content, report.use, one);
}

void add_instruments(const Scene& scene, Report& report) {
  const int count = static_cast<int>(report.vents.size());
#pragma omp parallel for schedule(dynamic)
  for (int v = 0; v < count; ++v) {
    VentSummary& view = report.vents[v];
    view.instruments = instruments_at(scene, view.vent);
  }
}

void add_spots(const Question& question, Report& report) {
  const geometry::Device& device = report.content.device;
  std::vector<geometry::Spot> spots = question.spots;
  for (std::size_t s = 0; s < device.skins.size() && question.spots.empty(); ++s) {
    geometry::Spot spot;
    spot.name = device.skins[s].name;
    spot.on = {geometry::PlaceKind::skin, static_cast<int>(s)};
    spot.size = std::min(device.skins[s].width, device.skins[s].height);
    spots.push_back(spot);
  }
  for (const geometry::Spot& spot : spots) {
    SpotView view;
    view.name = spot.name;
    view.on = geometry::place_name(device, spot.on);
    view.truth = spot_temperature(report.content, report.bench_result, spot).value_or(0.0);
    view.reading = spot_reading(report.content, report.bench_result, spot);
    report.spots.push_back(view);
  }
}

}  // namespace

Report judge_bench(const geometry::Case& given, const Question& question, std::optional<Unsolved>& unsolved) {
  Report report;
  report.content = given;
  report.bench = question.bench;
  report.use = question.use;
  report.claim = question.claim;
  report.asked = asked_vents(given, question.claim);
  geometry::Case& content = report.content;

  auto first = study::predict_these(content, {question.use, question.bench});
  for (const auto& result : first) {
    if (result.report.converged) continue;
    unsolved = Unsolved{result.name, result.report.reason};
    return report;
  }
  report.use_result = first[0];
  report.bench_result = first[1];

  // Everything else that is to be solved, in one go.
  geometry::Condition cold = content.conditions[question.bench];
  cold.load = add_cold_as(content, report.bench_result, "no load, fans as at the bench");
  report.cold = add_condition(content, cold);
  const auto candidates = add_candidates(content, question.bench, question.use, report.use_result);
  geometry::Condition forced = cold;
  forced.load = add_cold_full(content);
  report.forced = add_condition(content, forced);
  std::vector<int> wanted = {report.cold, report.forced};
  for (const Candidate& candidate : candidates) wanted.push_back(candidate.condition);
  auto solved = study::predict_these(content, wanted, study::StateSearch::none);
  report.cold_result = solved[0];
  report.forced_result = solved[1];
  std::vector<Tried> tried;
  for (std::size_t c = 0; c < candidates.size(); ++c) tried.push_back({candidates[c], solved[c + 2]});

  const OutsideAir at_bench(content, report.bench_result), in_use(content, report.use_result);
  const RoomAir room{at_bench.density(), at_bench.viscosity()};
  Responses responses(room);
  responses.prepare(all_mountings(content));
  report.ranking = ranking(room);
  std::optional<SectionAir> section;
  if (question.section != nullptr) {
    section.emplace(*question.section);
    report.section =
        SectionUsed{question.section->plane, question.section->why_plane, question.section->message};
  }
  const SectionAir* const in_plane = section ? &*section : nullptr;
  const Scene scene{
      content,   report.use_result, report.bench_result, report.cold_result, report.forced_result, at_bench,
      responses, in_plane};
  for (const study::VentChange& change : study::compare(content, report.use_result, report.bench_result)) {
    VentSummary view = vent_view(scene, change);
    view.pitfalls = pitfalls_of(scene, view);
    add_bent(content, report.bench_result, at_bench, responses, view, change.to, in_plane, report.bent_bench);
    add_bent(content, report.use_result, in_use, responses, view, change.from, nullptr, report.bent_use);
    report.vents.push_back(std::move(view));
  }
  add_instruments(scene, report);
  add_setups(question, responses, tried, report);
  const auto pose_of = [&](int condition) {
    const auto& which = content.conditions[condition];
    return content.poses[which.pose];
  };
  report.sweep = sweep_pose(content, question.bench, pose_of(question.use), pose_of(question.bench));
  report.tilt_error = pull_by_tilt(content, report.bench_result);
  add_claims(report);
  add_spots(question, report);
  return report;
}

}  // namespace tuft::experiment
