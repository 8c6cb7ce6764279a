#include <algorithm>
#include <cmath>

#include "solver/experiment/look.hpp"
#include "solver/network/vent_law.hpp"
#include "solver/physics/anemometer.hpp"
#include "solver/physics/background_air.hpp"
#include "solver/study/words.hpp"

namespace tuft::experiment {
namespace {

constexpr double kShownDistances[] = {0.005, 0.01, 0.02, 0.04, 0.08, 0.16};
constexpr double kNoHead = 2e-4;                              // [Pa], as in study::compare
constexpr double kHandBelow = 0.05, kBody = 0.3, kEye = 0.6;  // distances of a person who looks [m]
constexpr double kInstrumentDistance = 0.01, kPalmDistance = 0.01;
constexpr double kLeastVentLoss = 0.05, kLeastSpeed = 0.01;

double larger_flow(const study::VentResult& vent) { return std::max(vent.inflow, vent.outflow); }

std::vector<AirPoint> air_before(const Scene& scene, const geometry::Vent& vent,
                                 const study::VentResult& flows) {
  std::vector<AirPoint> points;
  const Vec3 normal = geometry::face_normal(vent.face);
  const Vec3 up = -scene.air.gravity().normalized();
  for (const double distance : kShownDistances) {
    if (out_of_reach(flows, distance)) break;
    const physics::AirAt there =
        scene.air.at(place_before(vent, scene.air.gravity(), distance, Part::middle));
    points.push_back({distance, there.velocity.dot(normal), there.velocity.norm(), there.velocity.dot(up),
                      there.temperature});
  }
  return points;
}

DisturberView disturber(const physics::Disturbance& air, double signal) {
  return {air.name,  air.speed.low, air.speed.nominal, air.speed.high, physics::signal_over(signal, air),
          air.source};
}

std::vector<DisturberView> disturbers_of(double signal, const OutsideAir& air) {
  const double room = air.room();
  return {disturber(physics::room_draught(air.draught(), room), signal),
          disturber(physics::breath(kEye, room), signal),
          disturber(physics::hand_plume(kHandBelow, room), signal),
          disturber(physics::body_plume(kBody, room), signal)};
}

study::ConditionResult with_loss(const Scene& scene, int vent, double loss) {
  geometry::Case changed = scene.content;
  geometry::Cover& cover = changed.device.vents[vent].cover;
  cover.loss_given = true;
  cover.loss = loss;
  return study::predict(changed, scene.bench.condition, study::StateSearch::none);
}

/// The experiment: what sets the bench apart from use is warmth's doing if it goes when the load alone is
/// taken away, the fans left as they are, and warm air pulls harder there than they do.
bool warmth_does_it(const study::VentResult& use, const study::VentResult& bench,
                    const study::VentResult& cold) {
  if (use.role == bench.role || cold.role == bench.role) return false;
  return std::abs(bench.buoyancy_head) + 0.5 * std::abs(bench.span_head) > std::abs(bench.fan_head);
}

void add_tell_tales(const Scene& scene, VentSummary& view) {
  const geometry::Vent& vent = scene.content.device.vents[view.vent];
  const geometry::Role in_use = view.change.from;
  const auto parts = parts_of(vent, scene.air.gravity(), view.change.to, in_use);
  Probe hung, held;
  hung.vent = held.vent = view.vent;
  held.hand_held = true;
  double best = -2.0, worst = 0.0;
  for (const NamedTellTale& cut : tell_tale_kit()) {
    const LookAt quiet = look_at(scene.content, scene.bench, scene.air, scene.responses, cut, hung, parts,
                                 in_use, scene.section);
    const LookAt by_hand = look_at(scene.content, scene.bench, scene.air, scene.responses, cut, held, parts,
                                   in_use, scene.section);
    const Response* response = scene.responses.of(cut, mounting_of(vent.face, scene.air.gravity()));
    for (std::size_t p = 0; p < parts.size(); ++p) {
      TellTaleView one;
      one.cut = &cut;
      one.part = parts[p];
      one.usable = response != nullptr;
      if (one.usable) {
        one.speed = quiet.speeds[p];
        one.lean = quiet.leans[p];
        one.by_law = quiet.by_law[p];
        one.by_section = quiet.by_section[p];
        one.seen = physics::look(std::abs(one.lean), viewing_of(cut)).seen;
        one.over = std::abs(one.lean) / physics::sight_thresholds(viewing_of(cut)).hardly;
        one.hung = quiet.chances[p];
        one.held = by_hand.chances[p];
        one.flutters = flutters_at(cut, *response, one.speed);
      }
      view.tell_tales.push_back(one);
    }
    if (response == nullptr) continue;
    if (cut.name == "paper-150") {
      view.by_hand = finding_of(by_hand.right, by_hand.wrong);
      view.right_by_hand = by_hand.right;
    }
    if (cut.advised && quiet.wrong > quiet.right) worst = std::max(worst, quiet.wrong);
    if (cut.advised && quiet.right - quiet.wrong > best) {
      best = quiet.right - quiet.wrong;
      view.at_best = finding_of(quiet.right, quiet.wrong);
      view.right_at_best = quiet.right;
    }
  }
  // Where the vent does something else than in use, a strip fine enough to answer answers wrongly; that
  // stiffer ones hang still is no comfort.
  if (view.change.role_changes && view.at_best != Finding::right && finding_of(0.0, worst) == Finding::wrong)
    view.at_best = Finding::wrong;
}

}  // namespace

Cause cause_of(const study::VentResult& use, const study::VentResult& bench) {
  if (study::front_changes(use, bench)) return Cause::front;
  const double by_fans = std::abs(bench.fan_head - use.fan_head);
  const double by_buoyancy = std::abs(bench.buoyancy_head - use.buoyancy_head);
  const double by_height = 0.5 * std::abs(bench.span_head - use.span_head);
  const double most = std::max({by_fans, by_buoyancy, by_height});
  if (most < kNoHead) return Cause::none;
  if (by_height == most) return Cause::buoyancy_in_height;
  return by_buoyancy == most ? Cause::buoyancy : Cause::fans;
}

std::vector<AirPoint> air_in_section(const SectionAir& air, const geometry::Vent& vent, int index,
                                     const Vec3& gravity, const std::vector<double>& distances) {
  std::vector<AirPoint> points;
  if (!air.cuts(index)) return points;
  const Vec3 normal = geometry::face_normal(vent.face), up = -gravity.normalized();
  for (const double distance : distances) {
    const auto there = air.at(place_before(vent, gravity, distance, Part::middle));
    if (!there) continue;
    points.push_back({distance, there->velocity.dot(normal), there->velocity.norm(), there->velocity.dot(up),
                      there->temperature});
  }
  return points;
}

VentSummary vent_view(const Scene& scene, const study::VentChange& change) {
  VentSummary view;
  view.vent = change.vent;
  view.change = change;
  const study::VentResult& use = vent_of(scene.use, change.vent);
  const study::VentResult& bench = vent_of(scene.bench, change.vent);
  view.cause = cause_of(use, bench);
  if (scene.cold.report.converged && warmth_does_it(use, bench, vent_of(scene.cold, change.vent)))
    view.cause = 0.5 * std::abs(bench.span_head) > std::abs(bench.buoyancy_head) ? Cause::buoyancy_in_height
                                                                                 : Cause::buoyancy;
  view.net_use = use.inflow - use.outflow;
  view.net_bench = bench.inflow - bench.outflow;
  if (scene.cold.report.converged) {
    const study::VentResult& cold = vent_of(scene.cold, change.vent);
    view.cold_role = cold.role;
    view.net_cold = cold.inflow - cold.outflow;
  }
  if (scene.forced.report.converged) {
    const study::VentResult& forced = vent_of(scene.forced, change.vent);
    view.forced_role = forced.role;
    view.net_forced = forced.inflow - forced.outflow;
  }
  if (out_of_reach(bench, kUsualDistance)) {
    view.by_hand = view.at_best = Finding::no_reach;
    return view;
  }
  const geometry::Vent& vent = scene.content.device.vents[change.vent];
  view.air = air_before(scene, vent, bench);
  if (scene.section != nullptr) {
    std::vector<double> distances;
    for (const AirPoint& point : view.air) distances.push_back(point.distance);
    view.air_in_section = air_in_section(*scene.section, vent, change.vent, scene.air.gravity(), distances);
  }
  add_tell_tales(scene, view);
  double signal = 0.0;
  for (const AirPoint& point : view.air)
    if (point.distance == kUsualDistance) signal = point.speed;
  view.disturbers = disturbers_of(signal, scene.air);
  Probe palm;
  palm.instrument = Instrument::hand;
  palm.vent = change.vent;
  palm.distance = kPalmDistance;
  const auto parts = parts_of(vent, scene.air.gravity(), change.to, change.from);
  for (const Part part : parts) {  // the part where it is felt most
    palm.part = part;
    const ExpectedReading felt = ReadingModel(scene.content, scene.bench.condition, palm)
                                     .expect(scene.content, scene.bench, scene.air);
    if (part == parts.front() || std::abs(felt.value) > std::abs(view.hand.value)) view.hand = felt;
  }
  return view;
}

std::vector<InstrumentView> instruments_at(const Scene& scene, int vent) {
  std::vector<InstrumentView> all;
  const study::VentResult& flows = vent_of(scene.bench, vent);
  if (out_of_reach(flows, kInstrumentDistance)) return all;
  const geometry::Vent& described = scene.content.device.vents[vent];
  std::optional<study::ConditionResult> free_flow;
  for (const physics::Anemometer& tool : physics::anemometers()) {
    InstrumentView view;
    view.name = tool.name;
    Probe probe;
    probe.instrument = Instrument::anemometer;
    probe.tool = tool.name;
    probe.vent = vent;
    probe.distance = kInstrumentDistance;
    view.reading = ReadingModel(scene.content, scene.bench.condition, probe)
                       .expect(scene.content, scene.bench, scene.air);
    const double moved = larger_flow(flows);
    if (moved > 0.0 && flows.role != geometry::Role::idle) {
      const auto law = network::vent_law(described, scene.content.laws);
      const double speed = std::max(flows.face_velocity, kLeastSpeed);
      const double own =
          std::max(2.0 * physics::drop_per_speed(law, speed, 1.0, scene.air.viscosity()) / speed, kLeastVentLoss);
      const double added = physics::added_loss(tool, described.width * described.height, own);
      // Both with a constant loss, so that the instrument alone makes the difference.
      if (!free_flow) free_flow = with_loss(scene, vent, own);
      const auto choked = with_loss(scene, vent, own + added);
      view.solved = free_flow->report.converged && choked.report.converged;
      const double free = view.solved ? larger_flow(vent_of(*free_flow, vent)) : 0.0;
      if (free > 0.0) {
        view.flow_left = larger_flow(vent_of(choked, vent)) / free;
        view.role_changes = vent_of(choked, vent).role != vent_of(*free_flow, vent).role;
      }
    }
    all.push_back(view);
  }
  return all;
}

}  // namespace tuft::experiment
