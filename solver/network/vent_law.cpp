#include "solver/network/vent_law.hpp"

#include <algorithm>
#include <vector>

#include "solver/elements/foam.hpp"
#include "solver/elements/given_loss.hpp"
#include "solver/elements/louvre.hpp"
#include "solver/elements/mesh.hpp"
#include "solver/elements/perforated.hpp"
#include "solver/elements/sharp_opening.hpp"
#include "solver/elements/slot_comb.hpp"

namespace tuft::network {
namespace {

using geometry::CoverKind;

// Wall a seam passes through: where two shells overlap (judgement).
constexpr double kSeamDepth = 1.5e-3;

elements::FaceLaw seam_law(const geometry::Vent& seam) {
  const double length = std::max(seam.width, seam.height);
  return elements::sharp_slot(*seam.leak_area / length, kSeamDepth);
}

}  // namespace

double vent_area(const geometry::Vent& vent) {
  if (vent.is_leak) return *vent.leak_area;
  return vent.width * vent.height * std::clamp(1.0 - *vent.blocked, 0.0, 1.0);
}

elements::FaceLaw vent_law(const geometry::Vent& vent) {
  if (vent.is_leak) return seam_law(vent);
  const geometry::Cover& cover = vent.cover;
  const elements::Opening face{vent.width, vent.height};
  if (cover.loss_given) return elements::given_loss(*cover.loss, face);
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
