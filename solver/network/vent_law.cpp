#include "solver/network/vent_law.hpp"

#include <algorithm>
#include <vector>

#include "solver/physics/ends.hpp"
#include "solver/physics/foam.hpp"
#include "solver/physics/given_loss.hpp"
#include "solver/physics/louvre.hpp"
#include "solver/physics/mesh.hpp"
#include "solver/physics/perforated.hpp"
#include "solver/physics/sharp_opening.hpp"
#include "solver/physics/slot_comb.hpp"

namespace tuft::network {
namespace {

using geometry::CoverKind;

// Wall a seam passes through: where two shells overlap (judgement).
constexpr double kSeamDepth = 1.5e-3;

elements::FaceLaw seam_law(const geometry::Vent& seam) {
  const double length = std::max(seam.width, seam.height);
  return elements::sharp_slot(*seam.leak_area / length, kSeamDepth);
}

// The cover alone, as in a duct of the face's size.
elements::FaceLaw cover_law(const geometry::Vent& vent) {
  const geometry::Cover& cover = vent.cover;
  switch (cover.kind) {
    case CoverKind::open:
      break;
    case CoverKind::perforated:
      return elements::perforated_sheet(*cover.open_ratio, *cover.hole, *cover.thickness);
    case CoverKind::mesh:
      return elements::mesh_screen(*cover.open_ratio, *cover.hole);
    case CoverKind::louvre:
      return elements::louvre_blades(*cover.open_ratio, *cover.hole, *cover.thickness);
    case CoverKind::slots:
      return elements::slot_sheet(*cover.open_ratio, *cover.hole, *cover.thickness);
    case CoverKind::foam:
      return elements::foam_layer(*cover.permeability, *cover.inertia, *cover.thickness);
  }
  return {};
}

// The cover in the chassis wall between room and zone.
elements::FaceLaw wall_law(const geometry::Vent& vent) {
  const elements::Opening face{vent.width, vent.height};
  const geometry::Cover& cover = vent.cover;
  switch (cover.kind) {
    case CoverKind::open:
      return elements::sharp_rectangle(face, *cover.thickness);
    case CoverKind::perforated:
      return elements::perforated(*cover.open_ratio, *cover.hole, *cover.thickness, face);
    case CoverKind::mesh:
      return elements::mesh(*cover.open_ratio, *cover.hole, *cover.thickness, face);
    case CoverKind::louvre:
      return elements::louvre(*cover.open_ratio, *cover.hole, *cover.thickness, face);
    case CoverKind::slots:
      return elements::slot_comb(*cover.open_ratio, *cover.hole, *cover.thickness, face);
    case CoverKind::foam:
      return elements::foam(*cover.permeability, *cover.inertia, *cover.thickness, face);
  }
  return {};
}

}  // namespace

double vent_area(const geometry::Vent& vent) {
  if (vent.is_leak) return *vent.leak_area;
  return vent.width * vent.height * std::clamp(1.0 - *vent.blocked, 0.0, 1.0);
}

elements::FaceLaw vent_law(const geometry::Vent& vent) {
  if (vent.is_leak) return seam_law(vent);
  const elements::Opening face{vent.width, vent.height};
  if (vent.cover.loss_given) return elements::given_loss(*vent.cover.loss, face);
  if (vent.behind.kind == geometry::PlaceKind::zone) return wall_law(vent);
  // What a bare opening resists when nearly nothing flows stays, so that no law is without any resistance.
  const elements::FaceLaw creep{elements::sharp_rectangle(face, 0.0).viscous, 0.0};
  elements::FaceLaw law = elements::in_series(cover_law(vent), creep);
  if (vent.behind.kind == geometry::PlaceKind::fins) law.inertial += 0.5 * elements::exit_loss;
  return law;
}

elements::FanCurve fan_curve(const geometry::Fan& fan) {
  const auto scaled = [&](const elements::FanCurve& curve) {
    return curve.scaled(*fan.flow_factor, *fan.pressure_factor);
  };
  if (fan.curve.empty()) {
    const auto kind =
        fan.kind == geometry::FanKind::blower ? elements::FanKind::blower : elements::FanKind::axial;
    return scaled(elements::FanCurve::typical(kind, *fan.diameter, *fan.thickness, *fan.speed));
  }
  std::vector<elements::FanPoint> points;
  for (const geometry::FanPoint& point : fan.curve) points.push_back({point.flow, point.pressure});
  return scaled(elements::FanCurve::from_points(points, fan.curve_speed, fan.curve_density));
}

}  // namespace tuft::network
