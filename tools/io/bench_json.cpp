#include "tools/io/bench.hpp"

#include <algorithm>
#include <cmath>

#include "solver/physics/thermometry.hpp"
#include "tools/io/field_lists.hpp"
#include "tools/io/json_parts.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/solution_json.hpp"

namespace tuft::io {
namespace {

using experiment::Report;

Json circumstances_json(const Report& report, int index) {
  const auto& condition = at(report.content.conditions, index);
  return {{"condition", condition.name}, {"circumstances", circumstances(report.content, condition)}};
}

Json reading_json(const experiment::ExpectedReading& reading, const char* unit) {
  if (!reading.possible) return {{"refused", reading.reason}};
  return {{std::string("value_") + unit, plain(reading.value)},
          {std::string("sigma_") + unit, plain(reading.sigma)},
          {"detection", plain(reading.detection)}};
}

Json air_json(const std::vector<experiment::AirPoint>& air) {
  return list_json(air, [](const experiment::AirPoint& point) { return fields_json({}, point); });
}

Json tell_tale_json(const experiment::TellTaleView& one) {
  Json entry = {{"strip", one.cut->name}, {"part", part_word(one.part)}, {"usable", one.usable}};
  if (!one.usable) return entry;
  for_each_field(one, AddFields(entry));
  entry["hung"] = fields_json({}, one.hung);
  entry["hand_held"] = fields_json({}, one.held);
  entry["flutters"] = one.flutters;
  return entry;
}

// The tell-tales that can be held there, the one with the largest measure first.
Json order_json(const experiment::VentSummary& view, double (*measure)(const experiment::TellTaleView&)) {
  std::vector<const experiment::TellTaleView*> usable;
  for (const experiment::TellTaleView& one : view.tell_tales)
    if (one.usable && one.part == view.tell_tales.front().part) usable.push_back(&one);
  std::stable_sort(usable.begin(), usable.end(),
                   [&](const auto* a, const auto* b) { return measure(*a) > measure(*b); });
  return list_json(usable, [](const experiment::TellTaleView* one) { return one->cut->name; });
}

Json disturber_json(const experiment::DisturberView& one) {
  return {{"disturber", one.name},
          {"low_m_s", one.low},
          {"nominal_m_s", one.nominal},
          {"high_m_s", one.high},
          {"signal_over", plain(one.signal_over)},
          {"source", one.source}};
}

Json instrument_json(const experiment::InstrumentView& one) {
  return {{"instrument", one.name},
          {"reading", reading_json(one.reading, "m_s")},
          {"flow_left", one.solved ? Json(plain(one.flow_left)) : Json(nullptr)},
          {"role_changes", one.role_changes}};
}

Json trap_json(const experiment::Pitfall& pitfall) {
  return {{"pitfall", trap_word(pitfall.kind)}, {"sentence", pitfall.text}};
}

Json bench_vent_json(const Report& report, const experiment::VentSummary& view) {
  const auto heads = [&](const study::ConditionResult& result) -> Json {
    const study::VentResult& vent = at(result.vents, view.vent);
    return {{"fan_head_Pa", plain(vent.fan_head)},
            {"buoyancy_head_Pa", plain(vent.buoyancy_head)},
            {"span_head_Pa", plain(vent.span_head)}};
  };
  Json json = {{"vent", vent_name(report.content, view.vent)},
               {"role_use", geometry::role_word(view.change.from)},
               {"role_bench", geometry::role_word(view.change.to)},
               {"role_changes", view.change.role_changes},
               {"size_changes", view.change.size_changes},
               {"net_in_use_kg_s", plain(view.net_use)},
               {"net_in_bench_kg_s", plain(view.net_bench)},
               {"heads_use", heads(report.use_result)},
               {"heads_bench", heads(report.bench_result)},
               {"cause", cause_word(view.cause)},
               {"because", view.change.because}};
  json["cold"] = {{"role", geometry::role_word(view.cold_role)}, {"net_in_kg_s", plain(view.net_cold)}};
  json["cold_full_speed"] = {{"role", geometry::role_word(view.forced_role)},
                             {"net_in_kg_s", plain(view.net_forced)}};
  json["by_hand"] = {{"finding", finding_word(view.by_hand)}, {"right", plain(view.right_by_hand)}};
  json["best_strip"] = {{"finding", finding_word(view.at_best)}, {"right", plain(view.right_at_best)}};
  json["hand"] = view.air.empty() ? Json(nullptr) : reading_json(view.hand, "W_m2");
  json["pitfalls"] = list_json(view.pitfalls, trap_json);
  json["air"] = air_json(view.air);
  json["air_in_section"] = air_json(view.air_in_section);
  json["strips"] = list_json(view.tell_tales, tell_tale_json);
  json["seen_best"] = order_json(view, [](const experiment::TellTaleView& one) { return one.over; });
  json["leans_most"] =
      order_json(view, [](const experiment::TellTaleView& one) { return std::abs(one.lean); });
  json["disturbers"] = list_json(view.disturbers, disturber_json);
  json["instruments"] = list_json(view.instruments, instrument_json);
  return json;
}

Json setup_json(const Report& report, const experiment::SetUp& setup) {
  if (setup.condition < 0) return nullptr;
  const geometry::Case& content = report.content;
  const auto& condition = at(content.conditions, setup.condition);
  Json json = {{"pose", at(content.poses, condition.pose).name},
               {"support", at(content.supports, condition.support).name},
               {"load", at(content.loads, condition.load).name},
               {"words", setup_text(report, setup)},
               {"cold", setup.cold},
               {"score", plain(setup.score)}};
  json["wait_s"] = setup.wait_known ? Json(plain(setup.wait)) : Json(nullptr);
  json["wait_flow_s"] = setup.wait_known ? Json(plain(setup.wait_flow)) : Json(nullptr);
  json["breath_from_m"] = setup.breath_from;
  Json list = Json::array();
  for (const experiment::SetUpVent& vent : setup.vents)
    list.push_back({{"vent", vent_name(report.content, vent.vent)},
                    {"strip", vent.cut == nullptr ? Json(nullptr) : Json(vent.cut->name)},
                    {"distance_m", vent.distance},
                    {"both_parts", vent.both_parts},
                    {"role", geometry::role_word(vent.role)},
                    {"air_m_s", plain(vent.signal)},
                    {"lean_m", plain(vent.lean)},
                    {"right", plain(vent.right)},
                    {"wrong", plain(vent.wrong)}});
  json["vents"] = list;
  return json;
}

Json ranked_json(const experiment::Ranked& entry) {
  const auto speed = [](const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); };
  return {{"strip", entry.cut->name},
          {"as_cut", entry.cut->words},
          {"hardly_m_s", speed(entry.hardly)},
          {"clearly_m_s", speed(entry.clearly)},
          {"clearly_hand_held_m_s", speed(entry.by_hand)},
          {"flutters_from_m_s", plain(entry.flutter.speed)},
          {"mind", entry.cut->mind}};
}

Json sweep_json(const Report& report) {
  Json points = Json::array();
  for (std::size_t i = 0; i < report.sweep.angles.size(); ++i) {
    Json roles = Json::object();
    for (const experiment::VentSummary& view : report.vents)
      roles[vent_name(report.content, view.vent)] = geometry::role_word(report.sweep.roles[i][view.vent]);
    points.push_back({{"angle_deg", clean_degrees(report.sweep.angles[i])},
                      {"solved", static_cast<bool>(report.sweep.solved[i])},
                      {"roles", roles}});
  }
  const auto turning_json = [&](const experiment::Turning& turning) -> Json {
    return {{"vent", vent_name(report.content, turning.vent)},
            {"from", geometry::role_word(turning.from)},
            {"to", geometry::role_word(turning.to)},
            {"between_deg", {clean_degrees(turning.low), clean_degrees(turning.high)}}};
  };
  return {{"points", points}, {"role_changes", list_json(report.sweep.role_changes, turning_json)}};
}

Json bench_claim_json(const Report& report, const experiment::ClaimView& view) {
  return {{"id", at(report.content.claims, view.claim).id},
          {"in_use", verdict_word(view.in_use.verdict)},
          {"going_by_the_bench", verdict_word(view.at_bench.verdict)},
          {"because", view.at_bench.because}};
}

Json section_json(const Report& report) {
  if (!report.section) return nullptr;
  const experiment::SectionUsed& used = *report.section;
  return {{"across", std::string(1, "xyz"[used.plane.normal])},
          {"at_m", plain(used.plane.at)},
          {"why", used.why},
          {"message", used.how}};
}

Json spot_json(const experiment::SpotView& spot) {
  return {{"spot", spot.name},
          {"on", spot.on},
          {"true_K", spot.truth > 0.0 ? Json(plain(spot.truth)) : Json(nullptr)},
          {"reading", reading_json(spot.reading, "K")}};
}

Json tilt_error_json(const Report& report, const experiment::TiltError& one) {
  return {{"vent", vent_name(report.content, one.vent)},
          {"tilt_deg", clean_degrees(experiment::kTiltError)},
          {"net_change", plain(one.change)},
          {"role_changes", one.role_changes}};
}

}  // namespace

std::string bench_json(const BenchRun& run, const Contents& contents) {
  const Report& report = run.report;
  Json json = results_head(run, contents);
  Json section;
  section["bench"] = circumstances_json(report, report.bench);
  section["use"] = circumstances_json(report, report.use);
  section["section"] = section_json(report);
  const auto each = [&](const auto& items, auto part_of) {
    return list_json(items, [&](const auto& item) { return part_of(report, item); });
  };
  section["claims"] = each(report.claims, bench_claim_json);
  section["setup"] = setup_json(report, report.common);
  section["setups_apart"] = each(report.apart, setup_json);
  section["candidates"] = report.candidates;
  section["vents"] = each(report.vents, bench_vent_json);
  section["ranking"] = list_json(report.ranking, ranked_json);
  section["pose_sweep"] = sweep_json(report);
  section["tilt_error"] = each(report.tilt_error, tilt_error_json);
  section["infrared"] = {{"caution", physics::infrared_caution},
                         {"spots", list_json(report.spots, spot_json)}};
  json["bench"] = section;
  return json_text(json);
}

}  // namespace tuft::io
