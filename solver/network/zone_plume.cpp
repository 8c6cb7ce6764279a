#include "solver/network/zone_plume.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solver/physics/background_air.hpp"
#include "solver/physics/plume.hpp"

namespace tuft::network {
namespace {

constexpr double kTopLayer =
    0.05;  // of a zone's height: openings so far below the top share a plume's heat; judgement
constexpr double kNarrowest = 1e-3;    // a source's longer side, at least [m]: a point
constexpr double kTouchesWall = 1e-3;  // [m]
// Air above the interface, where heat is given over a height, is between that of below and that of the top:
// half as warm as at the top on average (a line from nothing); judgement, as a box heated along one wall is
// in the field.
constexpr double kUnevenness = 0.5;
constexpr int kEachWay = 12;  // points along each side of a source's box, to find its parts

// What is up, and how far a box reaches along it.
struct Upright {
  Vec3 up;
  double height(const Vec3& place) const { return up.dot(place); }
  double reach(const Vec3& size) const { return up.cwiseAbs().dot(size); }
};

// Level of a plane whose normal is that axis: 1 for a floor, 0 for a wall.
double level_of(const Upright& frame, int axis) { return frame.up[axis] * frame.up[axis]; }

// Whether a box lies flush on a side of the zone across an axis.
bool lies_on(const PlumeZone& zone, const PlacedHeat& heat, int axis) {
  const double room =
      0.5 * (zone.size[axis] - heat.size[axis]) - std::abs(heat.centre[axis] - zone.centre[axis]);
  return room < kTouchesWall && heat.size[axis] < 0.5 * zone.size[axis];
}

// How much of a wall, and not of a floor, the side of the zone is on which a box lies; 0: on none.
double on_wall(const PlumeZone& zone, const PlacedHeat& heat, const Upright& frame) {
  double most = 0.0;
  for (int axis = 0; axis < 3; ++axis)
    if (lies_on(zone, heat, axis)) most = std::max(most, 1.0 - level_of(frame, axis));
  return most;
}

// A layer that runs along a leaning plate leans as the zone does: a level cuts both longer. By how much, for
// a plate as long as the zone.
double leaning(const PlumeZone& zone, const PlacedHeat& heat, const Upright& frame) {
  double most = 1.0;
  for (int axis = 0; axis < 3; ++axis) {
    if (!lies_on(zone, heat, axis)) continue;
    double length = 1.0;
    for (int along = 0; along < 3; ++along)
      if (along != axis) length = std::min(length, heat.size[along] / zone.size[along]);
    const double cut = 1.0 - level_of(frame, axis) * length * length;
    most = std::max(most, 1.0 / std::sqrt(std::max(cut, 1e-6)));
  }
  return most;
}

physics::PlumeSource plume_source(const PlumeZone& zone, const PlacedHeat& heat, const Upright& frame) {
  const Ambient& ambient = zone.ambient;
  physics::PlumeSource source;
  source.buoyancy = physics::buoyancy_flux(std::max(heat.power, 0.0), ambient.state, ambient.temperature);
  const double middle = frame.height(heat.centre), half = 0.5 * frame.reach(heat.size);
  source.base = middle - half;
  source.top = middle + half;
  std::array<double, 3> sides{};
  for (int axis = 0; axis < 3; ++axis)
    sides[axis] = heat.size[axis] * std::sqrt(std::max(1.0 - frame.up[axis] * frame.up[axis], 0.0));
  std::sort(sides.begin(), sides.end());
  source.longer = std::max(sides[2], kNarrowest);
  // Along a plate that is steeper than 45 degrees the air runs as along a wall; a flatter one is broad.
  source.shorter = std::max(sides[1] - 2.0 * half, 0.0);
  source.wall = on_wall(zone, heat, frame);
  return source;
}

// Shares of a box's volume in the parts whose opening is nearest.
std::vector<double> shares_by_place(const PlumeZone& zone, const PlacedHeat& heat) {
  std::vector<double> shares(zone.places->size(), 0.0);
  for (int k = 0; k < kEachWay; ++k)
    for (int j = 0; j < kEachWay; ++j)
      for (int i = 0; i < kEachWay; ++i) {
        const Vec3 along = (Vec3(i, j, k) + Vec3::Constant(0.5)) / kEachWay - Vec3::Constant(0.5);
        at(shares, nearest_place(heat.centre + along.cwiseProduct(heat.size), *zone.places)) +=
            1.0 / (kEachWay * kEachWay * kEachWay);
      }
  return shares;
}

// Shares of what lies in a thin layer at a level, among the openings that are told: by volume, and by how
// near they are.
std::vector<double> shares_of_layer(const PlumeZone& zone, const Upright& frame, double level,
                                    const std::vector<std::size_t>& among) {
  const double layer = kTopLayer * frame.reach(zone.size);
  std::vector<double> shares(zone.places->size(), 0.0);
  double sum = 0.0;
  for (const std::size_t p : among) {
    shares[p] = zone.parts->share[p] * std::exp(-std::abs(frame.height((*zone.places)[p]) - level) / layer);
    sum += shares[p];
  }
  for (double& share : shares) share /= sum;
  return shares;
}

// Openings with air of their own, from the lowest to the highest.
std::vector<std::size_t> by_height(const PlumeZone& zone, const Upright& frame) {
  std::vector<std::size_t> order;
  for (std::size_t p = 0; p < zone.places->size(); ++p)
    if (zone.parts->share[p] > 0.0) order.push_back(p);
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return frame.height((*zone.places)[a]) < frame.height((*zone.places)[b]);
  });
  return order;
}

// Shares of the zone's height in which each part's air lies: from its opening up to the next one, as the
// lower part's air fills the way between them. Below the lowest opening it is that one's. Openings in a thin
// layer share what lies above them by volume.
std::vector<double> shares_by_level(const PlumeZone& zone, const Upright& frame,
                                    const std::vector<std::size_t>& order) {
  const double whole = frame.reach(zone.size);
  const double floor = frame.height(zone.centre) - 0.5 * whole;
  const auto height = [&](std::size_t i) { return frame.height((*zone.places)[order[i]]); };
  std::vector<double> shares(zone.places->size(), 0.0);
  const auto share_out = [&](double level, const std::vector<std::size_t>& among, double reach) {
    const std::vector<double> part = shares_of_layer(zone, frame, level, among);
    for (std::size_t p = 0; p < shares.size(); ++p) shares[p] += reach / whole * part[p];
  };
  share_out(height(0), order, height(0) - floor);
  std::vector<std::size_t> below;
  for (std::size_t i = 0; i < order.size(); ++i) {
    below.push_back(order[i]);
    share_out(height(i), below, (i + 1 < order.size() ? height(i + 1) : floor + whole) - height(i));
  }
  return shares;
}

// A face, by the heights of its two openings; of all air that rises past its middle, it takes the share of
// its horizontal area.
struct Rise {
  double low, high, area;
};
double share_of_level(const std::vector<Rise>& rises, const Rise& here) {
  const double middle = 0.5 * (here.low + here.high);
  double sum = 0.0;
  for (const Rise& each : rises)
    if (each.low < middle && middle < each.high) sum += each.area;
  return sum > 0.0 ? here.area / sum : 0.0;
}

std::vector<Rise> rises_of(const PlumeZone& zone, const Upright& frame) {
  std::vector<Rise> rises;
  for (const PartFace& face : zone.parts->faces) {
    const double a = frame.height(at(*zone.places, face.a)), b = frame.height(at(*zone.places, face.b));
    rises.push_back({std::min(a, b), std::max(a, b), std::abs(frame.up.dot(face.area))});
  }
  return rises;
}

}  // namespace

ZonePlumes plumes_in(const PlumeZone& zone, const std::vector<PlacedHeat>& heats) {
  ZonePlumes out;
  out.streams.resize(zone.parts->faces.size());
  out.volume = zone.parts->share;
  if (zone.ambient.gravity.norm() == 0.0) {
    for (const PlacedHeat& heat : heats) out.shares.push_back(shares_by_place(zone, heat));
    return out;
  }
  const Upright frame{-zone.ambient.gravity.normalized()};
  const double rho = physics::density(zone.ambient.state, zone.ambient.temperature);
  const double nu = physics::viscosity(zone.ambient.temperature) / rho;
  const double section = zone.size.prod() / frame.reach(zone.size);
  const double ceiling = frame.height(zone.centre) + 0.5 * frame.reach(zone.size);
  const std::vector<Rise> rises = rises_of(zone, frame);
  const std::vector<std::size_t> order = by_height(zone, frame);
  // What rises gathers under the top, in the parts of the highest openings.
  const std::vector<double> top =
      shares_of_layer(zone, frame, frame.height((*zone.places)[order.back()]), order);
  double layered = 0.0;  // share of the zone's heat that layers its air
  for (const PlacedHeat& heat : heats) {
    const physics::PlumeSource source = plume_source(zone, heat, frame);
    const double ratio =
        leaning(zone, heat, frame) *
        physics::plume_at(source, 0.5 * (std::min(source.base, ceiling) + ceiling), nu).area / section;
    const double fills = ratio / std::pow(1.0 + std::pow(ratio, 4.0), 0.25);
    if (zone.heat > 0.0) layered += (1.0 - fills) * std::max(heat.power, 0.0) / zone.heat;
    std::vector<double> shares = shares_by_place(zone, heat);
    for (std::size_t p = 0; p < shares.size(); ++p) shares[p] = fills * shares[p] + (1.0 - fills) * top[p];
    out.shares.push_back(std::move(shares));
    for (std::size_t f = 0; f < rises.size(); ++f) {
      const double part = zone.entrainment * rho * share_of_level(rises, rises[f]);
      const physics::PlumeFlow high = physics::plume_at(source, rises[f].high, nu);
      PlumeStream& stream = out.streams[f];
      // Several plumes: the flows add; growth and room are those of the largest.
      if (part * high.flow > stream.upper) {
        const double given = std::min((source.top - source.base) / (rises[f].high - source.base), 1.0);
        stream.exponent = high.exponent;
        stream.evenness = 1.0 - kUnevenness * given;
        stream.outside = 1.0 - fills;
      }
      stream.lower += part * physics::plume_at(source, rises[f].low, nu).flow;
      stream.upper += part * high.flow;
    }
  }
  if (layered > 0.0) {
    const std::vector<double> levels = shares_by_level(zone, frame, order);
    for (std::size_t p = 0; p < levels.size(); ++p) out.volume[p] += layered * (levels[p] - out.volume[p]);
  }
  return out;
}

}  // namespace tuft::network
