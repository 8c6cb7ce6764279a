#include "solver/physics/jet.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/physics/reading.hpp"

namespace tuft::physics {
namespace {

constexpr double sqrt2 = 1.41421356237309504880;
// Abdel-Rahman et al. (1996): decay constants 6.11 at Re 19 400 and 1.35 at Re 1430.
constexpr double high_reynolds = 19400.0, low_reynolds = 1430.0, lowest_share = 1.35 / 6.11;
// Warmth spreads this much wider than speed (from memory), so its profile is the speed's to the power 1/1.44.
constexpr double warmth_width_squared = 1.2 * 1.2;
constexpr int steps = 48;

/// Share of the momentum density left at the offset x of a band of width L after spreading by sigma.
double band(double x, double length, double sigma) {
  const double scale = 1.0 / (sqrt2 * sigma);
  return 0.5 * (std::erf((x + 0.5 * length) * scale) - std::erf((x - 0.5 * length) * scale));
}

/// The shortest turn that takes the z axis to a direction (a unit vector); half a turn about x where that is
/// -z.
Eigen::Quaterniond turned_to(const Eigen::Vector3d& direction) {
  constexpr double kOpposite = -1.0 + 1e-12;
  if (direction.z() < kOpposite) return {0.0, 1.0, 0.0, 0.0};
  const double twice_cosine = std::sqrt(2.0 * (1.0 + direction.z()));  // of half the angle
  const Eigen::Vector3d axis = Eigen::Vector3d::UnitZ().cross(direction) / twice_cosine;
  return {0.5 * twice_cosine, axis.x(), axis.y(), axis.z()};
}

/// Integral over all x of sqrt(band(x)/band(0)); flat up to 8 sigma from the edge, Simpson's rule from there.
double speed_width(double length, double sigma) {
  const double flat = std::max(0.0, 0.5 * length - 8.0 * sigma);
  const double end = 0.5 * length + 8.0 * sigma;
  constexpr int panels = 32;
  const double h = (end - flat) / panels;
  const double centre = band(0.0, length, sigma);
  double sum = 0.0;
  for (int i = 0; i <= panels; ++i) {
    const double weight = i == 0 || i == panels ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
    sum += weight * std::sqrt(std::max(0.0, band(flat + i * h, length, sigma)) / centre);
  }
  return 2.0 * (flat + sum * h / 3.0);
}

/// Speed in the free area [m/s].
double free_speed(const Outlet& outlet) {
  return outlet.flow / (outlet.face.area() * outlet.face.open_ratio);
}

/// (rho_room - rho_out)/rho_room, > 0 for light air.
double lightness(const Outlet& outlet) {
  const double room = density(outlet.air, outlet.room_temperature);
  return (room - density(outlet.air, outlet.temperature)) / room;
}

void require_outlet(const Outlet& outlet) {
  require_face(outlet.face);
  numerics::require_positive(outlet.flow, "flow out of the vent");
  numerics::require_positive(outlet.temperature, "temperature of the outgoing air");
  numerics::require_positive(outlet.room_temperature, "temperature of the room");
  numerics::require_positive(outlet.air.pressure, "pressure of the air");
  require_finite_vector(outlet.gravity, "gravity in the vent's frame");
}

}  // namespace

double low_reynolds_share(double reynolds) {
  numerics::require_not_negative(reynolds, "Reynolds number of a jet");
  const double clamped = std::clamp(reynolds, low_reynolds, high_reynolds);
  const double power = std::log(lowest_share) / std::log(low_reynolds / high_reynolds);
  return std::pow(clamped / high_reynolds, power);
}

double jet_uncertainty(double reynolds) {
  const double lost = std::log(low_reynolds_share(reynolds)) / std::log(lowest_share);
  return 1.2 * std::pow(2.0 / 1.2, lost);
}

Jet::Jet(const Outlet& outlet) : outlet_(outlet) {
  require_outlet(outlet);
  const Face& face = outlet_.face;
  // The merged jet: the holes' momentum over the whole face.
  const double merged = free_speed(outlet_) * std::sqrt(face.open_ratio);
  const double kinematic_viscosity =
      viscosity(outlet_.temperature) / density(outlet_.air, outlet_.temperature);
  reynolds_ = merged * 2.0 * face.area() / (face.width + face.height) / kinematic_viscosity;
  spread_core_ = 1.0 / (std::sqrt(2.0 * numerics::kPi) * grille_jet_constant);
  core_length_ = grille_jet_constant * face.short_side();
  start_momentum_ = free_speed(outlet_) * free_speed(outlet_) * face.area() * face.open_ratio;
  buoyancy_ = -outlet_.gravity * lightness(outlet_) * outlet_.flow;
  follow();
  fill_sections();
}

double Jet::spread(double from, double to, double momentum) const {
  const double in_core = std::min(to, core_length_) - std::min(from, core_length_);
  // A round stream's Reynolds number goes with the root of its momentum: a plume grows out of a small one.
  const double grown = std::sqrt(momentum / start_momentum_);
  return spread_core_ * (in_core + (to - from - in_core) / low_reynolds_share(reynolds_ * grown));
}

double Jet::share_on_axis(double sigma) const {
  return band(0.0, outlet_.face.width, sigma) * band(0.0, outlet_.face.height, sigma);
}

double Jet::axis_speed(double momentum, double share) const {
  return std::sqrt(momentum / outlet_.face.area() * share);
}

double Jet::section_flow(double speed, double sigma) const {
  const double flow =
      speed * speed_width(outlet_.face.width, sigma) * speed_width(outlet_.face.height, sigma);
  return std::max(flow, outlet_.flow);
}

void Jet::follow() {
  const Face& face = outlet_.face;
  const double core = std::sqrt(start_momentum_ / face.area());
  const double reach = 200.0 * std::sqrt(face.area());
  // Short steps where the jet starts; two evaluations each (midpoint rule).
  double width = 1e-6 * face.short_side();
  Eigen::Vector3d position = Eigen::Vector3d::Zero();
  Eigen::Vector3d momentum = {0.0, 0.0, start_momentum_};
  const auto lift = [&](const Eigen::Vector3d& m, double sigma) -> Eigen::Vector3d {
    const double speed = axis_speed(m.norm(), share_on_axis(sigma));
    const double kept = std::min(1.0, speed / core);
    return buoyancy_ * (1.0 + warmth_width_squared * (1.0 - kept * kept)) / speed;
  };
  const auto record = [&](double s) {
    JetSection section;
    section.distance = s;
    section.position = position;
    section.direction = momentum.normalized();
    section.momentum = momentum.norm();
    section.width = width;
    sections_.push_back(section);
  };
  record(0.0);
  for (int i = 0; i < steps; ++i) {
    const auto place = [&](int k) { return reach * std::pow(static_cast<double>(k) / steps, 3.0); };
    const double s = place(i), h = place(i + 1) - s;
    const double half_way = width + spread(s, s + 0.5 * h, momentum.norm());
    const Eigen::Vector3d middle = momentum + 0.5 * h * lift(momentum, width);
    const Eigen::Vector3d next =
        middle.norm() > 0.0 ? Eigen::Vector3d(momentum + h * lift(middle, half_way)) : middle;
    const Eigen::Vector3d next_position = position + h * middle.normalized();
    const bool stopped = next.norm() < 0.02 * start_momentum_ || next.dot(momentum) <= 0.0;
    if (stopped || next_position.z() < 0.0) return;  // turned back by its own weight or lightness
    width += spread(s, s + h, momentum.norm());
    momentum = next;
    position = next_position;
    record(s + h);
  }
}

double Jet::shown_speed(double speed, double momentum) const {
  const double grown = std::sqrt(momentum / start_momentum_);
  return std::min(speed, core_speed_limit * outlet_.flow / outlet_.face.area() * grown);
}

double Jet::axis_excess(double speed, double momentum) const {
  // The warmth that came out is carried on by a flow of momentum M: far out, with Gaussian profiles, dT = dT0
  // Q0 U/M (1 + l^2)/(2 l^2). In the core it is dT0, which through a cover is Q0 U/(M sqrt(f)).
  const double core = std::sqrt(start_momentum_ / outlet_.face.area());
  const double kept = std::min(1.0, speed / core) * std::min(1.0, speed / core);
  const double far = 0.5 * (1.0 + warmth_width_squared) / warmth_width_squared;
  const double factor = kept / std::sqrt(outlet_.face.open_ratio) + far * (1.0 - kept);
  const double share = outlet_.flow * speed / momentum * factor;
  return (outlet_.temperature - outlet_.room_temperature) * std::min(1.0, share);
}

// What belongs to a section's width and momentum.
void Jet::fill_axis(JetSection& section) const {
  section.share = share_on_axis(section.width);
  const double speed = axis_speed(section.momentum, section.share);
  section.speed = shown_speed(speed, section.momentum);
  section.temperature_excess = axis_excess(speed, section.momentum);
}

void Jet::fill_sections() {
  for (JetSection& section : sections_) {
    fill_axis(section);
    section.flow = section_flow(axis_speed(section.momentum, section.share), section.width);
  }
  for (std::size_t i = 0; i + 1 < sections_.size(); ++i) {
    JetSection& a = sections_[i];
    const JetSection& b = sections_[i + 1];
    a.entrained = std::max(0.0, (b.flow - a.flow) / (b.distance - a.distance));
  }
  if (sections_.size() > 1) sections_.back().entrained = sections_[sections_.size() - 2].entrained;
}

JetSection Jet::at(double distance) const {
  numerics::require_not_negative(distance, "distance along a jet");
  if (distance >= sections_.back().distance) return sections_.back();
  const auto after =
      std::upper_bound(sections_.begin(), sections_.end(), distance,
                       [](double s, const JetSection& section) { return s < section.distance; });
  const JetSection& b = *after;
  const JetSection& a = *(after - 1);
  const double t = (distance - a.distance) / (b.distance - a.distance);
  JetSection section;
  section.distance = distance;
  section.position = a.position + t * (b.position - a.position);
  section.direction = (a.direction + t * (b.direction - a.direction)).normalized();
  section.momentum = a.momentum + t * (b.momentum - a.momentum);
  section.flow = a.flow + t * (b.flow - a.flow);
  section.entrained = a.entrained + t * (b.entrained - a.entrained);
  section.width = a.width + spread(a.distance, distance, a.momentum);
  fill_axis(section);
  return section;
}

double Jet::nearest_distance(const Eigen::Vector3d& point) const {
  double best = -1.0, distance = 0.0;
  for (std::size_t i = 0; i + 1 < sections_.size(); ++i) {
    const JetSection& a = sections_[i];
    const JetSection& b = sections_[i + 1];
    const Eigen::Vector3d along = b.position - a.position;
    const double t = std::clamp((point - a.position).dot(along) / along.squaredNorm(), 0.0, 1.0);
    const double away = (point - a.position - t * along).squaredNorm();
    if (best < 0.0 || away < best) {
      best = away;
      distance = a.distance + t * (b.distance - a.distance);
    }
  }
  return distance;
}

double Jet::profile(const JetSection& section, const Eigen::Vector3d& offset) const {
  // The face's axes, turned with the jet by the shortest way.
  const Eigen::Vector3d local = turned_to(section.direction).conjugate() * offset;
  const Face& face = outlet_.face;
  const double sigma = section.width;
  const double share =
      band(local.x(), face.width, sigma) * band(local.y(), face.height, sigma) / section.share;
  return share > 1e-30 ? std::sqrt(share)
                       : 0.0;  // what is left of the tail is nothing but slow to compute with
}

JetAir Jet::at_point(const Eigen::Vector3d& point) const {
  require_finite_vector(point, "place before the vent");
  numerics::require_not_negative(point.z(), "distance before the vent");
  const double distance = nearest_distance(point);
  const JetSection section = at(distance);
  const Eigen::Vector3d offset = point - section.position;
  JetAir air;
  const bool beyond = distance >= sections_.back().distance && offset.dot(section.direction) > 0.0;
  if (beyond) return air;
  const double share = profile(section, offset);
  air.velocity = section.speed * share * section.direction;
  air.temperature_excess = section.temperature_excess * std::pow(share, 1.0 / warmth_width_squared);
  const double square = offset.squaredNorm();
  if (square > 0.0)
    air.entrainment = -offset * (section.entrained * (1.0 - share) / (2.0 * numerics::kPi * square));
  return air;
}

}  // namespace tuft::physics
