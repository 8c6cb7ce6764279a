// Fans of which only kind, size and speed are known.
#include <iterator>
#include <vector>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/fan.hpp"

namespace tuft::elements {

namespace {

using base::kPi;

// JUDGEMENT: chosen so that a 52 mm x 5 mm blower at 4600 rpm gives 2 L/s freely and 120 Pa at most, inside
// the common range of notebook blowers, 1.4-2.8 L/s and 100-300 Pa (common practice, no source). The flow
// goes with the impeller's rim area pi D t.
constexpr double blower_flow = 0.20;      // free delivery over (pi D t U)
constexpr double blower_pressure = 1.30;  // shut-off pressure over (rho U^2 / 2)

// JUDGEMENT: a 40 mm axial fan at 6000 rpm gives 2.8 L/s freely and 40 Pa at most. Free delivery over
// ((pi/4) D^2 U); the best point of axial fans lies at phi 0.1-0.3, psi 0.1-0.5 (Eck 1973, from memory).
constexpr double axial_flow = 0.18;
constexpr double axial_pressure = 0.42;

// Shapes [-]: flow over free delivery, pressure over shut-off. A blower's falls smoothly; an axial fan's has
// the flat stretch of the stalled blades (judgement).
constexpr FanPoint blower_shape[] = {{0.0, 1.0}, {0.25, 0.92}, {0.5, 0.74}, {0.75, 0.44}, {1.0, 0.0}};
constexpr FanPoint axial_shape[] = {{0.0, 1.0},  {0.2, 0.80},  {0.4, 0.62},
                                    {0.5, 0.58}, {0.75, 0.36}, {1.0, 0.0}};

}  // namespace

FanCurve FanCurve::typical(FanKind kind, double diameter, double thickness, double speed) {
  const double d = base::require_positive(diameter, "fan diameter");
  const double t = base::require_positive(thickness, "fan thickness");
  const double u = tip_speed(d, base::require_positive(speed, "fan speed"));
  const bool blower = kind == FanKind::blower;
  const double free = blower ? blower_flow * kPi * d * t * u : axial_flow * 0.25 * kPi * d * d * u;
  const double shut = (blower ? blower_pressure : axial_pressure) * 0.5 * standard_fan_density * u * u;
  const auto sized = [free, shut](const FanPoint* begin, const FanPoint* end) {
    std::vector<FanPoint> points;
    for (const FanPoint* p = begin; p != end; ++p) points.push_back({p->flow * free, p->pressure * shut});
    return points;
  };
  return from_points(blower ? sized(std::begin(blower_shape), std::end(blower_shape))
                            : sized(std::begin(axial_shape), std::end(axial_shape)),
                     speed);
}

}  // namespace tuft::elements
