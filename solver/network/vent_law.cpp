#include "solver/network/vent_law.hpp"

#include <algorithm>
#include <iterator>
#include <vector>

#include "solver/physics/cover.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/openings.hpp"

namespace tuft::network {
namespace {

using geometry::Cover;
using geometry::CoverKind;

// Wall a seam passes through: where two shells overlap (judgement).
constexpr double kSeamDepth = 1.5e-3;

physics::FaceLaw seam_law(const geometry::Vent& seam) {
  const double length = std::max(seam.width, seam.height);
  return physics::sharp_slot(*seam.leak_area / length, kSeamDepth);
}

// What a kind of grille takes by itself, as in a duct of the face's size, and whether the wall's edge is as
// long as the grille is thick (else it is taken as thin: the hole behind a layer of foam is no tube).
struct GrilleLaw {
  CoverKind kind;
  physics::FaceLaw (*alone)(const Cover& cover);
  bool fills_wall;
};

// What else is known of a kind stands in geometry/device/cover.hpp.
constexpr GrilleLaw kGrilleLaws[] = {
    {CoverKind::open, [](const Cover&) { return physics::FaceLaw{}; }, true},
    {CoverKind::perforated,
     [](const Cover& c) { return physics::perforated_sheet(*c.open_ratio, *c.hole, *c.thickness); }, true},
    {CoverKind::mesh, [](const Cover& c) { return physics::mesh_screen(*c.open_ratio, *c.hole); }, true},
    {CoverKind::louvre,
     [](const Cover& c) { return physics::louvre_blades(*c.open_ratio, *c.hole, *c.thickness); }, true},
    {CoverKind::slots,
     [](const Cover& c) { return physics::slot_sheet(*c.open_ratio, *c.hole, *c.thickness); }, true},
    {CoverKind::foam,
     [](const Cover& c) { return physics::foam_layer(*c.permeability, *c.inertia, *c.thickness); }, false}};
static_assert(std::size(kGrilleLaws) == geometry::kCoverKindCount, "every kind of grille has a law");

const GrilleLaw& law_of(const Cover& cover) {
  return *std::find_if(std::begin(kGrilleLaws), std::end(kGrilleLaws),
                       [&](const GrilleLaw& law) { return law.kind == cover.kind; });
}

// The cover in the chassis wall between room and zone.
physics::FaceLaw wall_law(const Cover& cover, const physics::Opening& face) {
  if (cover.kind == CoverKind::open) return physics::sharp_rectangle(face, *cover.thickness);
  const GrilleLaw& law = law_of(cover);
  return physics::cover_in_wall(law.alone(cover), face, law.fills_wall ? *cover.thickness : 0.0);
}

physics::FaceLaw plain_law(const geometry::Vent& vent) {
  if (vent.is_leak) return seam_law(vent);
  const physics::Opening face{vent.width, vent.height};
  if (vent.behind.kind == geometry::PlaceKind::zone) return wall_law(vent.cover, face);
  // What a bare opening resists when nearly nothing flows stays, so that no law is without any resistance.
  const physics::FaceLaw bare = physics::sharp_rectangle(face, 0.0);
  const physics::FaceLaw creep{bare.viscous, 0.0, 0.0, 0.0, bare.onset};
  physics::FaceLaw law = physics::in_series(law_of(vent.cover).alone(vent.cover), creep);
  if (vent.behind.kind == geometry::PlaceKind::fins) law.inertial += 0.5 * physics::exit_loss;
  return law;
}

}  // namespace

double vent_area(const geometry::Vent& vent) {
  if (vent.is_leak) return *vent.leak_area;
  return vent.width * vent.height * std::clamp(1.0 - *vent.blocked, 0.0, 1.0);
}

physics::FaceLaw vent_law(const geometry::Vent& vent, const geometry::Laws& laws) {
  if (!vent.is_leak && vent.cover.loss_given)
    return physics::given_loss(*vent.cover.loss, {vent.width, vent.height});
  const CoverKind kind = vent.is_leak ? CoverKind::open : vent.cover.kind;
  const geometry::CoverLaw& factor = laws.covers[static_cast<std::size_t>(kind)];
  return physics::scaled(plain_law(vent), *factor.viscous, *factor.inertial);
}

double counterflow_share(const geometry::Vent& vent) {
  if (vent.is_leak || vent.cover.loss_given || vent.behind.kind == geometry::PlaceKind::zone) return 1.0;
  const double whole = wall_law(vent.cover, {vent.width, vent.height}).inertial;
  return std::min(1.0, plain_law(vent).inertial / whole);
}

physics::FanCurve fan_curve(const geometry::Fan& fan, const geometry::Laws& laws) {
  const auto scaled = [&](const physics::FanCurve& curve) {
    return curve.scaled(*fan.flow_factor, *fan.pressure_factor)
        .with_resistance(*laws.still_rotor, *laws.fan_backflow);
  };
  if (fan.curve.empty()) {
    const auto kind =
        fan.kind == geometry::FanKind::blower ? physics::FanKind::blower : physics::FanKind::axial;
    return scaled(physics::FanCurve::typical(kind, *fan.diameter, *fan.thickness, *fan.speed));
  }
  std::vector<physics::FanPoint> points;
  for (const geometry::FanPoint& point : fan.curve) points.push_back({point.flow, point.pressure});
  return scaled(physics::FanCurve::from_points(points, fan.curve_speed, fan.curve_density));
}

}  // namespace tuft::network
