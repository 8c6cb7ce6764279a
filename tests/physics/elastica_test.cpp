// The bent strip against exact limits: chain, beam, rigid strip on a hinge, heavy beam, buckling column.
#include "solver/physics/elastica.hpp"
#include "solver/numerics/constants.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

using namespace tuft::physics;
using Eigen::Vector2d;

namespace {

using Places = std::vector<Vector2d>;
using Angles = std::vector<double>;

using tuft::numerics::kPi;

/// A load that is the same everywhere.
LoadOnPieces even(const Vector2d& force) {
  return [force](const Places&, const Angles&, std::vector<LineLoad>& loads) {
    for (LineLoad& load : loads) load = LineLoad{force, Vector2d::Zero(), Eigen::Matrix2d::Zero()};
  };
}

/// Weight w downwards and a pressure q C cos^2(theta) along the normal.
LoadOnPieces wind(double weight, double pressure) {
  return [=](const Places&, const Angles& angles, std::vector<LineLoad>& loads) {
    for (std::size_t i = 0; i < loads.size(); ++i) {
      const double s = std::sin(angles[i]), c = std::cos(angles[i]);
      loads[i].force = Vector2d(0.0, weight) + pressure * std::abs(c) * c * Vector2d(c, -s);
      loads[i].d_angle = pressure * std::abs(c) * (-2.0 * s * Vector2d(c, -s) - c * Vector2d(s, c));
      loads[i].d_place.setZero();
    }
  };
}

ElasticaProblem problem(double length, double stiffness, EndCondition hold, double scale) {
  ElasticaProblem p;
  p.length = length;
  p.stiffness = stiffness;
  p.hold = hold;
  p.load_scale = scale;
  return p;
}

/// sin/cos^2 = ratio, by bisection.
double hinge_angle(double ratio) {
  double low = 0.0, high = 0.5 * kPi - 1e-9;
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (std::sin(middle) / std::pow(std::cos(middle), 2) < ratio ? low : high) = middle;
  }
  return low;
}

}  // namespace

TEST_CASE("elastica without stiffness: a hanging chain") {
  // Even load: a straight line along it. A sideways load that grows from the free end as its distance from
  // it: tan(theta) = (c (L-s)^2/2)/(w (L-s)) = c (L-s)/(2 w) (derived).
  const double length = 0.2, weight = 0.01;
  const ElasticaShape straight =
      solve_elastica(problem(length, 0.0, EndCondition::hinge, weight), even({0.006, weight}));
  REQUIRE(straight.converged);
  for (double angle : straight.angles) CHECK(angle == Approx(std::atan2(0.006, weight)).epsilon(1e-9));

  const double slope = 0.08;
  const LoadOnPieces growing = [&](const Places&, const Angles&, std::vector<LineLoad>& loads) {
    const double h = length / static_cast<double>(loads.size());
    for (std::size_t i = 0; i < loads.size(); ++i) {
      const double from_end = length - (static_cast<double>(i) + 0.5) * h;
      loads[i] = LineLoad{{slope * from_end, weight}, Vector2d::Zero(), Eigen::Matrix2d::Zero()};
    }
  };
  ElasticaProblem p = problem(length, 0.0, EndCondition::clamped, weight);
  p.pieces = 200;
  const ElasticaShape curved = solve_elastica(p, growing);
  REQUIRE(curved.converged);
  // tan(theta) = k (L-s) integrates to these (derived).
  const double k = slope / (2.0 * weight);
  CHECK(curved.tip().x() == Approx((std::sqrt(1.0 + k * k * length * length) - 1.0) / k).epsilon(2e-4));
  CHECK(curved.tip().y() == Approx(std::asinh(k * length) / k).epsilon(2e-4));
  CHECK(std::tan(curved.angles[100]) == Approx(k * length * (1.0 - 100.5 / 200.0)).epsilon(1e-3));
}

TEST_CASE("elastica without weight: a beam a little bent") {
  // Even load q on a cantilever: tip q L^4/(8 B), slope q L^3/(6 B) (textbook beam, derived).
  const double length = 0.1, stiffness = 5e-6, load = 1e-4;
  ElasticaProblem p = problem(length, stiffness, EndCondition::clamped, load);
  p.pieces = 100;
  const ElasticaShape beam = solve_elastica(p, even({load, 0.0}));
  REQUIRE(beam.converged);
  CHECK(beam.tip().x() == Approx(load * std::pow(length, 4) / (8.0 * stiffness)).epsilon(2e-4));
  CHECK(beam.angles.back() == Approx(load * std::pow(length, 3) / (6.0 * stiffness)).epsilon(2e-4));
}

TEST_CASE("elastica on a hinge: rigid strip in the wind") {
  // sin(theta)/cos^2(theta) = q C/w (derived: moments about the hinge); tissue of 16 g/m2 in 0.3 m/s, C 1.2,
  // leans 21.1 degrees. It holds for any stiffness, as every piece is balanced for itself.
  const double weight = 0.016 * 9.81, pressure = 0.5 * 1.2 * 0.09 * 1.2;
  const double angle = hinge_angle(pressure / weight);
  CHECK(angle * 180.0 / kPi == Approx(21.1).epsilon(5e-3));
  for (const double stiffness : {0.0, 1e-6, 1.0}) {
    const ElasticaShape strip =
        solve_elastica(problem(0.15, stiffness, EndCondition::hinge, weight), wind(weight, pressure));
    REQUIRE(strip.converged);
    CHECK(strip.tip().x() == Approx(0.15 * std::sin(angle)).epsilon(1e-7));
    CHECK(strip.tip().y() == Approx(0.15 * std::cos(angle)).epsilon(1e-7));
  }
  // Strong wind: nearly level, still found from rest.
  const double strong = hinge_angle(50.0);
  const ElasticaShape level = solve_elastica(problem(0.15, 0.0, EndCondition::hinge, 50.0), wind(1.0, 50.0));
  REQUIRE(level.converged);
  CHECK(level.angles.front() == Approx(strong).epsilon(1e-6));
}

TEST_CASE("elastica: heavy and stiff, a little bent, against the exact series") {
  // B theta'' = w x (theta - q/w), x = L - s from the free end, theta'(x = 0) = 0, theta(L) = 0 (derived):
  // theta = q/w (1 - f(x)/f(L)), f = sum of (w/B)^k x^(3k)/prod of (3j)(3j-1), and the tip is its integral.
  const double length = 0.15, weight = 0.785, load = 1e-3;
  for (const double stiffness : {3.3e-4, 2e-3, 5e-5}) {
    const double a = weight / stiffness;
    double term = 1.0, sum = 0.0, integral = 0.0;
    for (int k = 0; k < 60; ++k) {
      if (k > 0) term *= a * std::pow(length, 3) / (3.0 * k * (3.0 * k - 1.0));
      sum += term;
      integral += term * length / (3.0 * k + 1.0);
    }
    const double tip = load / weight * (length - integral / sum);
    ElasticaProblem p = problem(length, stiffness, EndCondition::clamped, weight);
    p.pieces = 200;
    const ElasticaShape strip = solve_elastica(p, even({load, weight}));
    REQUIRE(strip.converged);
    CHECK(strip.tip().x() == Approx(tip).epsilon(2e-4));
  }
}

TEST_CASE("elastica: a column falls over under its own weight where it must", "[memory:1]") {
  // Greenhill (1881), from memory: w L^3/B = 7.837 is the longest that stands. The chain of pieces has it
  // too.
  const double length = 0.1, weight = 0.8;
  const auto stands = [&](double number) {
    ElasticaProblem p = problem(length, weight * std::pow(length, 3) / number, EndCondition::clamped, weight);
    const ElasticaShape column = solve_elastica(p, even({0.0, -weight}), Angles(40, 0.01));
    REQUIRE(column.converged);
    return std::abs(column.tip().x()) < 1e-3 * length;
  };
  CHECK(stands(7.6));
  CHECK_FALSE(stands(8.1));
  CHECK_FALSE(stands(100.0));
}

TEST_CASE("elastica: far bent by a force at the end", "[memory:2]") {
  // Bisshopp & Drucker (1945), from memory: P L^2/B = 1 moves the tip sideways by 0.3017 L, 2 by 0.4935 L.
  for (const auto& known : {std::pair<double, double>(1.0, 0.3017), {2.0, 0.4935}}) {
    ElasticaProblem p = problem(1.0, 1.0, EndCondition::clamped, 1.0);
    p.pieces = 400;
    const LoadOnPieces end = [&](const Places&, const Angles&, std::vector<LineLoad>& loads) {
      for (LineLoad& load : loads) load = LineLoad{};
      loads.back().force = {known.first * static_cast<double>(loads.size()), 0.0};
    };
    const ElasticaShape beam = solve_elastica(p, end);
    REQUIRE(beam.converged);
    CHECK(beam.tip().x() == Approx(known.second).epsilon(3e-3));
  }
}

TEST_CASE("elastica: second order in the length of the pieces") {
  const auto tip = [&](int pieces) {
    ElasticaProblem p = problem(0.15, 3.3e-4, EndCondition::clamped, 1.0);
    p.pieces = pieces;
    return solve_elastica(p, wind(0.785, 0.8)).tip().x();
  };
  const double coarse = tip(20), middle = tip(40), fine = tip(80);
  CHECK((coarse - middle) / (middle - fine) == Approx(4.0).epsilon(0.1));
  CHECK(std::abs(tip(40) - tip(320)) < 2e-3 * tip(320));
}

TEST_CASE("elastica: a load that hangs on the place") {
  // A wind that fades with the way sideways, force k exp(-x/l): found in few steps, as the derivative by the
  // place is in the Jacobian, and balanced.
  const double weight = 0.5, strength = 1.0, fade = 0.03;
  const LoadOnPieces fading = [&](const Places& middles, const Angles&, std::vector<LineLoad>& loads) {
    for (std::size_t i = 0; i < loads.size(); ++i) {
      const double force = strength * std::exp(-middles[i].x() / fade);
      loads[i] = LineLoad{{force, weight}, Vector2d::Zero(), Eigen::Matrix2d::Zero()};
      loads[i].d_place(0, 0) = -force / fade;
    }
  };
  const ElasticaProblem p = problem(0.15, 1e-5, EndCondition::clamped, 1.0);
  const ElasticaShape exact = solve_elastica(p, fading);
  REQUIRE(exact.converged);
  CHECK(exact.iterations < 15);
  // Balance of moments about the hold: B theta'(0) is the moment of all loads.
  std::vector<LineLoad> loads(40);
  Places middles;
  for (std::size_t i = 0; i < 40; ++i) middles.push_back(0.5 * (exact.places[i] + exact.places[i + 1]));
  fading(middles, exact.angles, loads);
  const double h = 0.15 / 40.0;
  double moment = 0.0;
  for (std::size_t i = 0; i < 40; ++i) {
    moment += h * (middles[i].y() * loads[i].force.x() - middles[i].x() * loads[i].force.y());
  }
  CHECK(p.stiffness * exact.angles.front() / (0.5 * h) == Approx(moment).epsilon(1e-6));
}

TEST_CASE("elastica: wrong input is refused") {
  const ElasticaProblem good = problem(0.1, 1e-6, EndCondition::hinge, 1.0);
  const auto refused = [&](ElasticaProblem p) {
    CHECK_THROWS_AS(solve_elastica(p, even({0.0, 1.0})), std::invalid_argument);
  };
  ElasticaProblem p = good;
  p.length = 0.0;
  refused(p);
  p = good;
  p.stiffness = -1.0;
  refused(p);
  p = good;
  p.load_scale = 0.0;
  refused(p);
  p = good;
  p.pieces = 3;
  refused(p);
  p = good;
  p.hold_angle = std::numeric_limits<double>::infinity();
  refused(p);
  CHECK_THROWS_AS(solve_elastica(good, even({std::nan(""), 1.0})), std::invalid_argument);
}
