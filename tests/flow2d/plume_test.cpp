// The laminar plume over a line of heat: its similar solution is integrated here and the field started from
// it.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// Boundary-layer equations of a line plume (Boussinesq; derived, the form is Gebhart, Pera & Schorr 1970's,
/// from memory): w = W z^(1/5) f', T = T0 z^(-3/5) h, eta = y / (D z^(2/5)) with D^2 W = nu, g beta T0 = W^2,
/// give
///   f''' + (3 f f'' - f'^2) / 5 + h = 0,   h' = -(3/5) Pr f h,   f(0) = f''(0) = 0, h(0) = 1, f'(inf) = 0.
class Plume {
 public:
  explicit Plume(double prandtl) : prandtl_(prandtl) {
    double low = 0.1, high = 5.0;
    for (int k = 0; k < 60; ++k) {
      const double middle = 0.5 * (low + high);
      (overshoots(middle) ? high : low) = middle;
    }
    start_ = 0.5 * (low + high);
    integrate(start_);
  }

  double start() const { return start_; }  ///< f'(0)
  double heat() const { return heat_; }    ///< integral of f' h over both sides
  double f(double eta) const { return sample(f_, eta, f_.back()); }
  double speed(double eta) const { return sample(g_, eta, 0.0); }
  double warmth(double eta) const { return sample(h_, eta, 0.0); }

 private:
  static constexpr double kStep = 2e-3, kFar = 14.0;

  struct Point {
    double f, g, c, h;
  };
  Point slope(const Point& p) const {
    return {p.g, p.c, -(3.0 * p.f * p.c - p.g * p.g) / 5.0 - p.h, -0.6 * prandtl_ * p.f * p.h};
  }
  static Point moved(const Point& p, const Point& s, double t) {
    return {p.f + t * s.f, p.g + t * s.g, p.c + t * s.c, p.h + t * s.h};
  }
  Point step(const Point& p) const {
    const Point a = slope(p), b = slope(moved(p, a, 0.5 * kStep)), c = slope(moved(p, b, 0.5 * kStep)),
                d = slope(moved(p, c, kStep));
    return moved(moved(moved(moved(p, a, kStep / 6), b, kStep / 3), c, kStep / 3), d, kStep / 6);
  }
  /// Whether f' turns up again before it has reached 0.
  bool overshoots(double start) {
    Point p{0.0, start, 0.0, 1.0};
    for (double eta = 0.0; eta < 40.0; eta += kStep) {
      p = step(p);
      if (p.g < 0.0) return false;
      if (p.c > 0.0) return true;
    }
    return true;
  }
  void integrate(double start) {
    Point p{0.0, start, 0.0, 1.0};
    for (double eta = 0.0; eta < kFar && p.g > 1e-5; eta += kStep) {
      f_.push_back(p.f);
      g_.push_back(p.g);
      h_.push_back(p.h);
      const Point next = step(p);
      heat_ += kStep * (p.g * p.h + next.g * next.h);
      p = next;
    }
  }
  static double sample(const std::vector<double>& values, double eta, double beyond) {
    const double at = eta / kStep;
    const auto k = static_cast<std::size_t>(at);
    if (k + 1 >= values.size()) return beyond;
    return values[k] + (at - static_cast<double>(k)) * (values[k + 1] - values[k]);
  }

  double prandtl_, start_ = 0.0, heat_ = 0.0;
  std::vector<double> f_, g_, h_;
};

}  // namespace

TEST_CASE("the plume's profile at the Prandtl number of a closed form", "[plume]") {
  // Pr = 2 (Brand & Lahey 1967, from memory; derived): f = A tanh(s eta) has f' = A s sech^2, and h = sech^4
  // meets the heat balance with (3/5) Pr A / s = 4; the momentum balance asks for A = 10 s / 3 and s^4 =
  // 9/80.
  const Plume plume(2.0);
  const double s = std::pow(9.0 / 80.0, 0.25);
  CHECK(plume.start() == Approx(10.0 / 3.0 * s * s).epsilon(1e-4));
  CHECK(plume.warmth(1.0) == Approx(std::pow(std::cosh(s), -4.0)).epsilon(1e-4));
}

TEST_CASE("a laminar line plume follows its law of height", "[plume]") {
  constexpr double prandtl = 0.71, nu = 1e-3, heat = 1.0;  // g beta = 1, heat: integral of w T
  const Plume plume(prandtl);
  const double W = std::pow(heat / (plume.heat() * std::sqrt(nu)), 0.4), D = std::sqrt(nu / W), T0 = W * W;
  Problem p = unit_box(growing_axis(60, 0.0, 0.9, 1.06), growing_axis(60, 1.0, 4.0, 1.015));
  p.fluid.viscosity = nu;
  p.fluid.conductivity = nu / prandtl;
  p.gravity = {0.0, -1.0};
  p.momentum_scheme = p.energy_scheme = Convection::limited;
  Edge open;
  open.kind = EdgeKind::outlet;
  open.inertial_in = 0.5;  // air that enters comes from rest
  open.temperature = 0.0;
  p.set_side(Side::right, open);
  p.set_side(Side::top, open);
  set_slip(&p, Side::left);
  Edge in;
  in.kind = EdgeKind::inflow;
  p.set_side(Side::bottom, in);
  for (int i = 0; i < p.grid.nx(); ++i) {
    Edge& e = p.edges[2][static_cast<std::size_t>(i)];
    const double eta = p.grid.x.centres()[static_cast<std::size_t>(i)] / D;
    e.normal = W * plume.speed(eta);
    e.tangential = -W * D * (0.6 * plume.f(eta) - 0.4 * eta * plume.speed(eta));
    e.temperature = T0 * plume.warmth(eta);
  }
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  const auto& x = p.grid.x.centres();
  const auto& dx = p.grid.x.widths();
  const auto even = [&](double a, double b) {
    return a + (a - b) * x[0] * x[0] / (x[1] * x[1] - x[0] * x[0]);
  };
  double first[4] = {};
  for (const double z : {1.5, 3.0}) {
    int j = 0;
    while (p.grid.y.faces()[static_cast<std::size_t>(j)] < z) ++j;
    const double height = p.grid.y.faces()[static_cast<std::size_t>(j)];
    const auto temperature = [&](int i) {  // at the face between rows j-1 and j
      const double below = p.grid.y.widths()[static_cast<std::size_t>(j - 1)],
                   above = p.grid.y.widths()[static_cast<std::size_t>(j)];
      return (s.state.temperature(i, j - 1) * above + s.state.temperature(i, j) * below) / (below + above);
    };
    // What rises within eta = 4; beyond it moves what the plume draws in, which its boundary layer does not
    // know.
    const double edge = 4.0 * D * std::pow(height, 0.4);
    double flow = 0.0, carried = 0.0;
    for (int i = 0; i < p.grid.nx(); ++i) {
      const double low = p.grid.x.faces()[static_cast<std::size_t>(i)];
      flow += 2.0 * s.state.v()(i, j) * std::clamp(edge - low, 0.0, dx[static_cast<std::size_t>(i)]);
      carried += 2.0 * s.state.v()(i, j) * temperature(i) * dx[static_cast<std::size_t>(i)];
    }
    const double speed = even(s.state.v()(0, j), s.state.v()(1, j)),
                 warm = even(temperature(0), temperature(1));
    CHECK(speed == Approx(W * plume.start() * std::pow(height, 0.2)).epsilon(0.01));
    CHECK(warm == Approx(T0 * std::pow(height, -0.6)).epsilon(0.015));
    CHECK(flow == Approx(2.0 * W * D * plume.f(4.0) * std::pow(height, 0.6)).epsilon(0.02));
    CHECK(carried == Approx(heat).epsilon(0.01));
    if (first[0] == 0.0) {
      first[0] = height, first[1] = speed, first[2] = warm, first[3] = flow;
    } else {
      const auto law = [&](double a, double b) { return std::log(b / a) / std::log(height / first[0]); };
      CHECK(law(first[1], speed) == Approx(0.2).margin(0.01));
      CHECK(law(first[2], warm) == Approx(-0.6).margin(0.015));
      CHECK(law(first[3], flow) == Approx(0.6).margin(0.02));
    }
  }
}
