// Courses with solutions in closed form.
#include <Eigen/Eigenvalues>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/network/transient_support.hpp"

using namespace tuft;
using namespace tuft::testing;

// One lump C with power P and a conductance G to the room: T - T0 = P/G (1 - exp(-t G/C)). Derived.
TEST_CASE("a lump warms up along the exponential", "[transient]") {
  network::Setup setup = lumps({120.0}, {15.0});
  join(setup, 0, network::kOutside, 0.4);
  const network::TransientResult transient = network::run_transient(setup);
  INFO(told(transient));
  REQUIRE(transient.ending == network::Ending::steady);
  const std::vector<double>& time = transient.history.time;
  const std::vector<double>& values = transient.history.temperature[0].values;
  double worst = 0.0;
  for (std::size_t i = 0; i < time.size(); ++i)
    worst = std::max(worst, std::abs(values[i] - 300.0 - 37.5 * (1.0 - std::exp(-time[i] * 0.4 / 120.0))));
  INFO("steps " << transient.history.time.size() << " worst " << worst);
  CHECK(time.size() > 30);
  // A step errs by 1e-6 of 37.5 K; their errors add.
  CHECK(worst < 2e-4);
  CHECK(values.back() == Approx(337.5).margin(3e-5));
  CHECK(transient.growth == Approx(-0.4 / 120.0).epsilon(1e-9));
  CHECK(transient.energy_balance.error < 1e-11);

  // It is within 1 K of the end after tau ln(37.5), and within 2 K tau ln 2 earlier.
  const network::Settling one = network::settling(transient, 1.0, 0.02);
  const network::Settling two = network::settling(transient, 2.0, 0.02);
  REQUIRE(one.known);
  CHECK(one.overall == Approx(300.0 * std::log(37.5)).margin(0.5));
  CHECK(one.overall - two.overall == Approx(300.0 * std::log(2.0)).margin(0.5));
}

// Two lumps in a row: C T' = -K (T - T0) + P, solved by the eigenvectors of the symmetric matrix
// C^-1/2 K C^-1/2. Derived; Eigen computes the eigenvectors.
TEST_CASE("two lumps follow their eigen-solution", "[transient]") {
  network::Setup setup = lumps({8.0, 250.0}, {20.0, 3.0});
  join(setup, 0, 1, 1.25);
  join(setup, 1, network::kOutside, 0.5);
  const network::TransientResult transient = network::run_transient(setup);
  REQUIRE(transient.ending == network::Ending::steady);

  Eigen::Matrix2d conductance;
  conductance << 1.25, -1.25, -1.25, 1.75;
  const Eigen::Vector2d root = Eigen::Vector2d(8.0, 250.0).cwiseSqrt();
  const Eigen::Matrix2d symmetric =
      root.cwiseInverse().asDiagonal() * conductance * root.cwiseInverse().asDiagonal();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> modes(symmetric);
  const Eigen::Vector2d end = conductance.inverse() * Eigen::Vector2d(20.0, 3.0);
  const auto exact = [&](double t) {
    const Eigen::Vector2d decay = (-modes.eigenvalues() * t).array().exp();
    const Eigen::Vector2d left = modes.eigenvectors() * decay.asDiagonal() *
                                 modes.eigenvectors().transpose() * root.asDiagonal() * end;
    return Eigen::Vector2d(end - left.cwiseQuotient(root));
  };
  double worst = 0.0;
  for (std::size_t i = 0; i < transient.history.time.size(); ++i)
    for (int lump = 0; lump < 2; ++lump)
      worst =
          std::max(worst, std::abs(transient.history.temperature[static_cast<std::size_t>(lump)].values[i] -
                                   300.0 - exact(transient.history.time[i])[lump]));
  INFO("worst " << worst << " steps " << transient.history.time.size());
  CHECK(worst < 3e-4);
  CHECK(transient.growth == Approx(-modes.eigenvalues()[0]).epsilon(1e-9));
}

TEST_CASE("a finer step comes nearer", "[transient]") {
  network::Setup setup = lumps({120.0}, {15.0});
  join(setup, 0, network::kOutside, 0.4);
  const auto error_at = [&](double tolerance) {
    network::TransientOptions options;
    options.relative = options.absolute = tolerance;
    options.until = 300.0;
    options.steady_within = 0.0;
    const network::TransientResult transient = network::run_transient(setup, options);
    REQUIRE(transient.ending == network::Ending::time_up);
    CHECK(transient.history.time.back() == Approx(300.0).epsilon(1e-12));
    return std::abs(transient.history.temperature[0].values.back() - 300.0 - 37.5 * (1.0 - std::exp(-1.0)));
  };
  CHECK(error_at(1e-8) < 0.1 * error_at(1e-5));
}

TEST_CASE("nothing happens without power", "[transient]") {
  network::Setup setup = lumps({8.0, 250.0}, {0.0, 0.0});
  join(setup, 0, 1, 1.25);
  join(setup, 1, network::kOutside, 0.5);
  const network::TransientResult transient = network::run_transient(setup);
  CHECK(transient.ending == network::Ending::steady);
  CHECK(transient.history.time.back() == 0.0);
  CHECK(transient.history.temperature[0].values == std::vector<double>{300.0});
}

TEST_CASE("setups that do not hold together are refused", "[transient]") {
  network::Setup setup = lumps({8.0, 0.0}, {1.0, 0.0});
  join(setup, 0, 1, 1.0);
  join(setup, 1, network::kOutside, 1.0);
  CHECK_THROWS_WITH(network::run_transient(setup), Catch::Contains("capacity of lump-1"));
  setup.graph.bodies[1].capacity = 1.0;
  setup.start.resize(1);
  CHECK_THROWS_AS(network::run_transient(setup), std::invalid_argument);
  setup.start = Eigen::VectorXd::Constant(2, -3.0);
  CHECK_THROWS_AS(network::run_transient(setup), std::invalid_argument);
  setup = lumps({8.0}, {1.0});
  CHECK_THROWS_WITH(network::run_transient(setup), Catch::Contains("no heat can leave"));
  network::TransientOptions options;
  options.until = 0.0;
  CHECK_THROWS_AS(network::run_transient(lumps({1.0}, {0.0}), options), std::invalid_argument);
}
