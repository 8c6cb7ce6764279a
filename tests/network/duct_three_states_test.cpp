// A fan against buoyancy: three steady states by hand.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/continuation.hpp"
#include "solver/network/initial_states.hpp"
#include "solver/network/stability.hpp"
#include "tests/network/duct.hpp"

using namespace tuft;
using namespace tuft::testing;
using network::Setting;

// Derived. m [kg/s] is the flow downwards, s the fan's speed over its full one, T the duct's temperature,
// T0, r0 the room's, H the height, Q the power, K what walls and still air conduct, and
//     mu = Q / (cp T0),  kappa = K / cp,  B = r0 g H.
// Energy, either way of flow: Q = (cp |m| + K)(T - T0), so T/T0 = (|m| + kappa + mu) / (|m| + kappa), and the
// weight that the warm air lacks over the height is
//     (r0 - r) g H = B (T - T0)/T = B mu / (|m| + kappa + mu).
// Downwards (m > 0) the fan draws room air, p = s^2 p0 - s S m with p0 its shut-off pressure at r0 and
// S = p0 / (r0 Qfree), and the mouth lets out warm air, c m^2 / (A^2 r) = k m^2 T/T0, k = c / (A^2 r0):
//     s^2 p0 - s S m = D(m) = B mu / (m + kappa + mu) + k m^2 (m + kappa + mu) / (m + kappa).           (1)
// Without losses (kappa = 0), times (m + mu), it is the cubic
//     k m^3 + (2 k mu + s S) m^2 + (k mu^2 + s S mu - s^2 p0) m + (B - s^2 p0) mu = 0,
// by Descartes' rule with two positive roots or none where B > s^2 p0. Upwards (w = -m > 0) the mouth lets in
// room air and the fan is blown through backwards, p = s^2 p0 + s S w + kf w^2, kf = p0 / (r0 Qfree)^2:
//     B mu / (w + kappa + mu) = s^2 p0 + s S w + (kf + k) w^2,                                           (2)
// whose left side falls and whose right side rises: one root while s^2 p0 < B mu / (kappa + mu), none beyond.
// Both are quadratic in s at a given flow, so s(m) is explicit. It rises on (2) towards m = 0 and, these
// numbers given, falls on (1) from there: a corner at s^2 p0 = B mu / (kappa + mu). Further on it has its
// minimum, where ds/dm = 0, that is
//     -s S = D'(m).                                                                                      (3)
// So: one state (up) below the minimum, one (down) above the corner, three between.
namespace {

const geometry::Case kNoCase;

struct Hand {
  double mu, kappa, buoyancy, mouth, shut, slope, reversed;

  explicit Hand(double power_factor = 1.0) {
    const DuctNumbers n;
    const double density = physics::density({}, n.ambient), cp = physics::specific_heat(n.ambient);
    const double still = network::still_air_conductance(n.area, n.depth, physics::conductivity(n.ambient));
    mu = power_factor * n.power / (cp * n.ambient);
    kappa = (n.wall + still) / cp;
    buoyancy = density * physics::standard_gravity * n.height;
    mouth = n.inertial / (n.area * n.area * density);
    shut = n.shut_off * density / physics::standard_fan_density;
    const double free = density * n.free_delivery;
    slope = shut / free;
    reversed = shut / (free * free);
  }
  double needed(double m) const {  // D
    return buoyancy * mu / (m + kappa + mu) + mouth * m * m * (m + kappa + mu) / (m + kappa);
  }
  double needed_slope(double m) const {  // D'
    const double x = m + kappa;
    return -buoyancy * mu / ((x + mu) * (x + mu)) + mouth * (2.0 * m * (x + mu) / x - m * m * mu / (x * x));
  }
  double down(double s, double m) const { return s * s * shut - s * slope * m - needed(m); }  // (1)
  double up(double s, double w) const {                                                       // (2)
    return buoyancy * mu / (w + kappa + mu) - s * s * shut - s * slope * w - (reversed + mouth) * w * w;
  }
  double speed_at(double m) const {  // s of (1)
    return (slope * m + std::sqrt(slope * slope * m * m + 4.0 * shut * needed(m))) / (2.0 * shut);
  }
  double corner() const { return std::sqrt(buoyancy * mu / ((kappa + mu) * shut)); }
};

template <typename F>
double root(const F& f, double low, double high) {
  const bool rising = f(high) > 0.0;
  REQUIRE(f(low) * f(high) < 0.0);
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    ((f(middle) > 0.0) == rising ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

// Flow at the minimum of s(m), by (3).
double folding_flow(const Hand& hand) {
  return root([&](double m) { return hand.speed_at(m) * hand.slope + hand.needed_slope(m); }, 1e-7, 5e-3);
}

struct ThreeFlows {
  double fan, between, up;
};
ThreeFlows three_flows(const Hand& hand, double s) {
  const double turn = folding_flow(hand);
  return {root([&](double m) { return hand.down(s, m); }, turn, 1e-2),
          root([&](double m) { return hand.down(s, m); }, 0.0, turn),
          -root([&](double w) { return hand.up(s, w); }, 0.0, 1e-2)};
}

network::State state_at(const Hand& hand, double flow) {
  const DuctNumbers n;
  const double through = std::abs(flow) + hand.kappa;
  network::State x;
  x.flow = Eigen::Vector2d::Constant(flow);
  x.temperature = Eigen::VectorXd::Constant(1, n.ambient * (through + hand.mu) / through);
  x.pressure = Eigen::VectorXd::Zero(1);
  return x;
}

network::Family speeds() {
  network::Family family;
  family.at = [](double s) { return duct({s, 1.0, 0.0}); };
  return family;
}

network::Stability stability_of(const network::Model& model, const network::State& x) {
  network::Equations equations(model.net.graph);
  equations.evaluate(x);
  return network::stability(equations, x);
}

}  // namespace

TEST_CASE("the duct's three states are those of the hand, two of them stable", "[branches]") {
  const Hand hand;
  const double lowest = hand.speed_at(folding_flow(hand)), corner = hand.corner();
  for (const double share : {0.1, 0.5, 0.9}) {
    const double s = lowest + share * (corner - lowest);
    const ThreeFlows flows = three_flows(hand, s);
    REQUIRE(flows.up < 0.0);
    REQUIRE(flows.between < 0.7 * flows.fan);
    const network::Model model = duct({s, 1.0, 0.0});
    for (const double flow : {flows.fan, flows.between, flows.up}) {
      INFO("speed " << s << " flow " << flow);
      // A guess some per cent away: Newton's method finds unstable states as well.
      network::State x = state_at(hand, 1.02 * flow);
      REQUIRE(network::newton(model, {}, x));
      CHECK(x.flow[0] == Approx(flow).epsilon(1e-10));
      CHECK(x.flow[1] == Approx(flow).epsilon(1e-10));
      CHECK(x.temperature[0] == Approx(state_at(hand, flow).temperature[0]).epsilon(1e-10));
      CHECK(stability_of(model, x).stable == (flow != flows.between));
    }
  }
}

TEST_CASE("without losses the flow against buoyancy solves the cubic", "[branches]") {
  const DuctNumbers n;
  network::Model model = duct({1.2, 1.0, 0.0});
  model.net.graph.nodes[0].wall_conductance = 0.0;
  model.net.graph.openings[0].depth = 1e9;  // so that still air conducts nothing
  const Hand hand;
  const double s = 1.2, k = hand.mouth, mu = hand.mu, p = s * s * hand.shut, slope = s * hand.slope;
  const auto cubic = [&](double m) {
    return ((k * m + 2.0 * k * mu + slope) * m + k * mu * mu + slope * mu - p) * m + (hand.buoyancy - p) * mu;
  };
  // Where the cubic is least: 3 k m^2 + 2 (2 k mu + s S) m = p - s S mu - k mu^2.
  const double half = 2.0 * k * mu + slope, rest = p - slope * mu - k * mu * mu;
  const double least = (-half + std::sqrt(half * half + 3.0 * k * rest)) / (3.0 * k);
  int found = 0;
  for (const auto& [low, high] : {std::pair{0.0, least}, std::pair{least, 1e-2}}) {
    const double flow = root(cubic, low, high);
    network::State x = state_at(hand, flow);
    x.temperature[0] = n.ambient * (1.0 + mu / flow);
    REQUIRE(network::newton(model, {}, x));
    CHECK(x.flow[0] == Approx(flow).epsilon(1e-10));
    ++found;
  }
  CHECK(found == 2);
}

TEST_CASE("the curve of the duct's states folds where the hand says", "[branches]") {
  const Hand hand;
  const double turn = folding_flow(hand);
  const double lowest = hand.speed_at(turn), corner = hand.corner();
  REQUIRE(lowest < 0.75);
  REQUIRE(corner > 0.75);
  const ThreeFlows flows = three_flows(hand, 0.75);
  network::State start = state_at(hand, flows.fan);
  REQUIRE(network::newton(duct({0.75, 1.0, 0.0}), {}, start));
  const network::Trace trace = network::trace(speeds(), start, 0.75, false);
  CHECK(trace.end == network::TraceEnd::range);  // down to the still fan, air rising
  REQUIRE(trace.folds.size() == 2);
  CHECK(trace.folds[0].parameter == Approx(lowest).epsilon(1e-9));
  CHECK(trace.folds[0].state.flow[0] == Approx(turn).epsilon(1e-5));
  CHECK(trace.folds[1].parameter == Approx(corner).epsilon(1e-7));
  CHECK(std::abs(trace.folds[1].state.flow[0]) < 1e-6 * flows.fan);
  REQUIRE(trace.returns.size() == 2);
  CHECK(trace.returns[0].state.flow[0] == Approx(flows.between).epsilon(1e-9));
  CHECK(trace.returns[1].state.flow[0] == Approx(flows.up).epsilon(1e-9));
  // The other way no fold is met.
  const network::Trace rising = network::trace(speeds(), start, 0.75, true);
  CHECK(rising.folds.empty());
  CHECK(rising.end == network::TraceEnd::range);
  // Every point lies on the hand's curve, and its stability is as the curve's slope says.
  int unstable = 0;
  for (const network::CurvePoint& point : trace.points) {
    const double m = point.state.flow[0];
    if (m > 0.0) CHECK(point.parameter == Approx(hand.speed_at(m)).epsilon(1e-9));
    if (m < 0.0) CHECK(std::abs(hand.up(point.parameter, -m)) < 1e-8);
    if (point.parameter <= 0.0) continue;
    const bool stable = stability_of(duct({point.parameter, 1.0, 0.0}), point.state).stable;
    CHECK(stable == (m < 0.0 || m > turn));
    if (!stable) ++unstable;
  }
  CHECK(unstable > 3);
}

// The same by power: (1) has mu in it at two places, and is linear and a square when multiplied out; here the
// fold is found as the power at which (1) and its slope by m vanish together, by nested bisection.
TEST_CASE("more power turns the fan-driven state over where the hand says", "[branches]") {
  const double s = 0.75;
  const auto deepest = [&](double power) {  // largest of fan minus need: 0 at the fold
    const Hand hand(power);
    const double m = root([&](double flow) { return -s * hand.slope - hand.needed_slope(flow); }, 1e-7, 5e-3);
    return hand.down(s, m);
  };
  const double fold = root(deepest, 1.0, 20.0);
  network::Family family;
  family.at = [&](double power) { return duct({s, power, 0.0}); };
  network::State start = state_at(Hand(), three_flows(Hand(), s).fan);
  network::TraceOptions options;
  options.stop_at_fold = true;
  options.high = 20.0;
  const network::Trace trace = network::trace(family, start, 1.0, true, options);
  REQUIRE(trace.end == network::TraceEnd::fold);
  CHECK(trace.folds[0].parameter == Approx(fold).epsilon(1e-9));
}

TEST_CASE("turned up and down again the fan goes through a loop", "[branches]") {
  const Hand hand;
  const double lowest = hand.speed_at(folding_flow(hand)), corner = hand.corner();
  network::Model model = duct({0.0, 1.0, 0.0});
  network::State x = network::solve_steady(kNoCase, model.layout, model.net).state;
  const int n = 220;
  const double step = 1.1 / n;
  int on_both = 0;
  for (int i = 0; i <= 2 * n; ++i) {
    const double s = step * (i <= n ? i : 2 * n - i);
    model = duct({s, 1.0, 0.0});
    INFO("step " << i << " speed " << s);
    // In its own time; a solve for the steady state may end in the unstable one near the corner.
    REQUIRE(network::relax(model, {}, x));
    const bool going_up = i <= n;
    // Right before the corner the unstable state lies closer than one sudden step pushes the flow.
    if (going_up && s < corner && s > corner - 6.0 * step) continue;
    const bool rises = going_up ? s < corner : s < lowest;
    CHECK((x.flow[0] < 0.0) == rises);
    if (s > lowest && s < corner) {
      const ThreeFlows flows = three_flows(hand, s);
      CHECK(x.flow[0] == Approx(going_up ? flows.up : flows.fan).epsilon(1e-7));
      ++on_both;
    }
  }
  CHECK(on_both > 80);
}
