#include "solver/physics/fin_heat.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

#include "solver/physics/openings.hpp"
#include "solver/physics/strip_law.hpp"

using namespace tuft::physics;

namespace {

const FinChannels fins{40.0, 1.2e-3, 8e-3, 12e-3};

}  // namespace

TEST_CASE("fins that fill the face have friction and development only") {
  const FaceLaw law = fin_stack(fins, fins.area());
  CHECK(law.viscous == Approx(duct_friction(1.2e-3, 8e-3, 12e-3)));
  CHECK(2.0 * law.inertial == Approx(development_loss(1.2 / 8.0)));
}

TEST_CASE("fins in a larger face narrow and widen the stream, on the face velocity") {
  const double ratio = 0.5;
  const FaceLaw law = fin_stack(fins, fins.area() / ratio);
  CHECK(law.viscous == Approx(duct_friction(1.2e-3, 8e-3, 12e-3) / ratio));
  const double k = 0.5 * 0.5 + development_loss(1.2 / 8.0) + 0.25;
  CHECK(2.0 * law.inertial == Approx(k / (ratio * ratio)));
}

TEST_CASE("twice as many fins in twice the face give the same law") {
  const FinChannels twice{80.0, 1.2e-3, 8e-3, 12e-3};
  CHECK(fin_stack(twice, 2.0 * 6e-4).viscous == Approx(fin_stack(fins, 6e-4).viscous));
  CHECK(fin_stack(twice, 2.0 * 6e-4).inertial == Approx(fin_stack(fins, 6e-4).inertial));
}

TEST_CASE("air that warms between fins has the mean viscosity of both sides, however fast it is") {
  const FaceLaw law = fin_stack(fins, fins.area());
  const SideState cold{1.2, 1.8e-5}, warm{1.06, 2.0e-5};
  const double mean = 0.5 * law.viscous * (1.8e-5 / 1.2 + 2.0e-5 / 1.06);
  for (const double reynolds : {1.0, 100.0, 2000.0}) {  // on the gap
    const double flux = reynolds * 1.8e-5 / 1.2e-3;
    const double head = strip_head(strip_law(law, cold, warm), flux);
    CHECK((head - law.inertial / 1.2 * flux * flux) / flux == Approx(mean).epsilon(1e-6));
  }
}

TEST_CASE("fin stacks that cannot be are refused") {
  CHECK_THROWS_AS(fin_stack(fins, 0.9 * fins.area()), std::invalid_argument);
  CHECK_THROWS_AS(fin_stack({0.0, 1e-3, 8e-3, 12e-3}, 1e-3), std::invalid_argument);
  CHECK_THROWS_AS(fin_stack({40.0, 0.0, 8e-3, 12e-3}, 1e-3), std::invalid_argument);
}
