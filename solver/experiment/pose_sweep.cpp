#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "solver/experiment/setup.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::experiment {
namespace {

using geometry::Role;
using numerics::kDegree;
constexpr double kTurnStep = 15.0 * kDegree, kNarrow = 2.0 * kDegree;
constexpr std::size_t kMostNarrowed = 12;

struct Turn {
  const geometry::Case& content;
  int condition;
  geometry::Pose from;
  Vec3 axis;
};

std::vector<study::ConditionResult> solve_at(const Turn& turn, const std::vector<double>& angles) {
  geometry::Case turned = turn.content;
  std::vector<int> wanted;
  for (const double angle : angles) {
    geometry::Pose pose = turn.from;
    pose.to_world = Eigen::AngleAxisd(angle, turn.axis).toRotationMatrix() * turn.from.to_world;
    geometry::Condition condition = turn.content.conditions[turn.condition];
    condition.pose = static_cast<int>(turned.poses.size());
    turned.poses.push_back(pose);
    wanted.push_back(static_cast<int>(turned.conditions.size()));
    turned.conditions.push_back(condition);
  }
  return study::predict_these(turned, wanted, study::StateSearch::none);
}

/// Halves every interval that is still wide until none is.
void narrow(const Turn& turn, std::vector<Turning>& role_changes) {
  const std::size_t count = std::min(role_changes.size(), kMostNarrowed);
  while (true) {
    std::vector<double> angles;
    std::vector<std::size_t> which;
    for (std::size_t i = 0; i < count; ++i) {
      if (role_changes[i].high - role_changes[i].low <= kNarrow) continue;
      angles.push_back(0.5 * (role_changes[i].low + role_changes[i].high));
      which.push_back(i);
    }
    if (angles.empty()) return;
    const auto results = solve_at(turn, angles);
    for (std::size_t k = 0; k < which.size(); ++k) {
      Turning& one = role_changes[which[k]];
      if (!results[k].report.converged) {
        one.low = std::min(one.low + 0.25 * (one.high - one.low), one.low + kNarrow);
        continue;
      }
      const Role role = results[k].vents[one.vent].role;
      (role == one.from ? one.low : one.high) = angles[k];
      if (role != one.from) one.to = role;
    }
  }
}

}  // namespace

PoseSweep sweep_pose(const geometry::Case& content, int condition, const geometry::Pose& from,
                     const geometry::Pose& to) {
  const Eigen::AngleAxisd way(Eigen::Matrix3d(to.to_world * from.to_world.transpose()));
  const bool turns = std::abs(way.angle()) > 1e-6;
  PoseSweep sweep;
  sweep.axis = turns ? Vec3(way.axis()) : Vec3(from.to_world * Vec3::UnitY());
  const double end = turns ? way.angle() : 90.0 * kDegree;
  const int steps = std::max(1, static_cast<int>(std::ceil(end / kTurnStep - 1e-6)));
  for (int i = 0; i <= steps; ++i) sweep.angles.push_back(i < steps ? i * kTurnStep : end);
  const Turn turn{content, condition, from, sweep.axis};
  const auto results = solve_at(turn, sweep.angles);
  for (const study::ConditionResult& result : results) {
    sweep.solved.push_back(result.report.converged);
    std::vector<Role> roles(content.device.vents.size(), Role::idle);
    for (std::size_t v = 0; v < result.vents.size(); ++v) roles[v] = result.vents[v].role;
    sweep.roles.push_back(roles);
  }
  for (std::size_t v = 0; v < content.device.vents.size(); ++v) {
    if (content.device.vents[v].is_leak) continue;
    for (std::size_t i = 1; i < sweep.angles.size(); ++i) {
      const bool known = sweep.solved[i - 1] && sweep.solved[i];
      if (!known || sweep.roles[i - 1][v] == sweep.roles[i][v]) continue;
      sweep.role_changes.push_back({static_cast<int>(v), sweep.roles[i - 1][v], sweep.roles[i][v],
                                    sweep.angles[i - 1], sweep.angles[i]});
    }
  }
  narrow(turn, sweep.role_changes);
  return sweep;
}

std::vector<TiltError> pull_by_tilt(const geometry::Case& content, const study::ConditionResult& bench) {
  const auto& condition = content.conditions[bench.condition];
  const geometry::Pose& pose = content.poses[condition.pose];
  std::vector<study::ConditionResult> tilted;
  for (const Vec3& axis : {Vec3(Vec3::UnitX()), Vec3(Vec3::UnitY())}) {
    const auto both = solve_at({content, bench.condition, pose, axis}, {-kTiltError, kTiltError});
    tilted.insert(tilted.end(), both.begin(), both.end());
  }
  std::vector<TiltError> all;
  for (const study::VentResult& vent : bench.vents) {
    if (content.device.vents[vent.vent].is_leak) continue;
    TiltError one;
    one.vent = vent.vent;
    const double gross = std::max(vent.inflow, vent.outflow), net = vent.inflow - vent.outflow;
    for (const study::ConditionResult& result : tilted) {
      if (!result.report.converged) continue;
      const study::VentResult& other = result.vents[vent.vent];
      if (gross > 0.0)
        one.change = std::max(one.change, std::abs(other.inflow - other.outflow - net) / gross);
      one.role_changes = one.role_changes || other.role != vent.role;
    }
    one.signal_over = one.change > 0.0 ? 1.0 / one.change : 1e9;
    all.push_back(one);
  }
  return all;
}

}  // namespace tuft::experiment
