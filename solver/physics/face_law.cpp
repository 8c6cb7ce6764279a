#include "solver/physics/face_law.hpp"

#include <cmath>

namespace tuft::physics {

double drop_per_speed(const FaceLaw& law, double speed, double density, double viscosity) {
  const double y = law.onset * viscosity / (density * speed);
  // 1 - S without cancellation: S = 1/(y + sqrt(1 + y^2)).
  const auto missing = [](double at) { return 1.0 - 1.0 / (at + std::sqrt(1.0 + at * at)); };
  const double inertial = law.inertial - law.early * missing(y) - law.late * missing(kLateOnset * y);
  return law.viscous * viscosity + inertial * density * speed;
}

}  // namespace tuft::physics
