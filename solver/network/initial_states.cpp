#include "solver/network/initial_states.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/network/linear_step.hpp"
#include "solver/network/stability.hpp"
#include "solver/numerics/dense.hpp"

namespace tuft::network {

namespace {

using Eigen::VectorXd;

constexpr int kMostSteps = 4000;
constexpr double kFirstRelaxStep = 1e-3;  // [s]
constexpr double kLargestMove = 0.05;     // in one step, of the state's own largest flow and rise
constexpr double kLongest = 20.0;         // [s]: well below what a device takes to leave an unstable state
constexpr double kAtRest = 1e-10;         // scaled residual

// Largest change of a flow or temperature; pressures follow from those.
double move(const Equations& eq, const Eigen::VectorXd& change, const State& x) {
  const auto [flow, rise] = size_of(eq, x);
  double most = 0.0;
  for (int e = 0; e < eq.n_flows(); ++e) most = std::max(most, std::abs(change[e]) / flow);
  for (double d : change.tail(eq.n_temperatures())) most = std::max(most, std::abs(d) / rise);
  return most;
}

constexpr double kHotter = 80.0;         // than the room, in the hot start [K]
constexpr double kForcedWarming = 30.0;  // of the air of a forced flow that takes all the power along [K]
constexpr double kSameWay = 0.3;         // share of the forced flow from which on the cold state goes its way
constexpr int kHeatRounds = 30;
// Loops driven either way; each costs two solves, of which one takes long where there are very many openings.
constexpr std::size_t kMostLoops = 24, kMostLoopsOfLarge = 4, kLargeNetwork = 500;

// Circulations: every element that does not belong to a tree of openings grown from the room closes a loop.
class Loops {
 public:
  explicit Loops(const Equations& eq) : eq_(eq), parent_(static_cast<std::size_t>(eq.n_nodes()), -1) {
    std::vector<bool> in_tree(static_cast<std::size_t>(eq.n_flows()), false);
    for (bool grown = true; grown;) {
      grown = false;
      for (int e = 0; e < eq.n_flows() && !grown; ++e) {
        const bool a = reached(eq.side_a(e)), b = reached(eq.side_b(e));
        if (a == b) continue;
        at(parent_, a ? eq.side_b(e) : eq.side_a(e)) = e;
        at(in_tree, e) = grown = true;
      }
    }
    for (int e = 0; e < eq.n_flows(); ++e)
      if (!at(in_tree, e)) closing_.push_back(e);
  }

  const std::vector<int>& closing() const { return closing_; }

  // Unit flow through the closing element from its a to its b, and back through the tree.
  VectorXd circulation(int closing) const {
    VectorXd flow = VectorXd::Zero(eq_.n_flows());
    flow[closing] = 1.0;
    run_transient(eq_.side_b(closing), 1.0, flow);
    run_transient(eq_.side_a(closing), -1.0, flow);
    return flow;
  }

 private:
  bool reached(int node) const { return node == kOutside || at(parent_, node) >= 0; }

  // Takes `amount` from a node to the room along the tree.
  void run_transient(int node, double amount, VectorXd& flow) const {
    while (node != kOutside) {
      const int e = at(parent_, node);
      const bool forward = eq_.side_a(e) == node;
      flow[e] += forward ? amount : -amount;
      node = forward ? eq_.side_b(e) : eq_.side_a(e);
    }
  }

  const Equations& eq_;
  std::vector<int> parent_;  // element that leads to each node
  std::vector<int> closing_;
};

// The change of temperatures that a step of Newton's method asks for at given flows; empty where there is
// none.
VectorXd heat_change(Equations& eq, const State& x, LinearStep& large) {
  const int n = eq.n_temperatures();
  if (is_large(eq)) return large.compute_heat(eq, x) ? large.correction().temperature : VectorXd();
  const VectorXd heat = eq.residual(x).tail(n);
  return numerics::DenseLu(transient_jacobian(eq, x).matrix.bottomRightCorner(n, n)).solve(-heat);
}

// Temperatures at given flows, by Newton's method on the heat alone.
bool heat_up(Equations& eq, State& x) {
  LinearStep step(eq);
  for (int i = 0; i < kHeatRounds; ++i) {
    eq.evaluate(x);
    const VectorXd change = heat_change(eq, x, step);
    if (change.size() == 0 || !change.allFinite()) return false;
    const double largest = change.cwiseAbs().maxCoeff();
    x.temperature += std::min(1.0, 100.0 / std::max(largest, 1e-300)) * change;
    if (largest < 1e-6) return true;
  }
  return false;
}

// Which loops are driven where there are too many: half of them those whose opening is largest, the others
// spread evenly over the height at which the loop is closed. In the order of the graph.
std::vector<int> chosen_loops(const Graph& graph, const std::vector<int>& all) {
  if (all.size() <= kMostLoops) return all;
  const std::size_t most = all.size() < kLargeNetwork ? kMostLoops : kMostLoopsOfLarge;
  const int n_openings = static_cast<int>(graph.openings.size());
  const auto area = [&](int e) { return e < n_openings ? at(graph.openings, e).area : HUGE_VAL; };
  const auto height = [&](int e) {
    const Vec3& centre =
        e < n_openings ? at(graph.openings, e).centre : at(graph.fans, e - n_openings).centre;
    return -graph.ambient.gravity.dot(centre);
  };
  std::vector<int> left = all;
  const auto larger = [&](int a, int b) { return area(a) > area(b); };
  const auto lower = [&](int a, int b) { return height(a) < height(b); };
  std::stable_sort(left.begin(), left.end(), larger);
  const auto half = left.begin() + static_cast<std::ptrdiff_t>(most / 2);
  std::vector<int> chosen(left.begin(), half);
  left.erase(left.begin(), half);
  std::stable_sort(left.begin(), left.end(), lower);
  const std::size_t others = most - most / 2;
  for (std::size_t i = 0; i < others; ++i) chosen.push_back(left[i * (left.size() - 1) / (others - 1)]);
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

double whole_power(const Graph& graph) {
  double power = 0.0;
  for (const auto& node : graph.nodes) power += std::abs(node.power);
  for (const auto& body : graph.bodies) power += std::abs(body.power);
  return power;
}

}  // namespace

bool relax(const Model& model, const Held& held, State& x) {
  Equations eq(model.net.graph);
  for (const auto& [temperature, value] : held) eq.hold(temperature, value);
  const VectorXd& row_scale = eq.residual_scale();
  LinearStep linear(eq);
  double step = kFirstRelaxStep;
  for (int i = 0; i < kMostSteps; ++i) {
    eq.evaluate(x);
    const Eigen::VectorXd rate = eq.residual(x);
    if (!rate.allFinite()) return false;
    if (rate.cwiseQuotient(row_scale).cwiseAbs().maxCoeff() <= kAtRest) return true;
    const Eigen::VectorXd change = implicit_change(eq, x, 1.0 / step, linear);
    if (change.size() == 0) return false;
    const double moved = move(eq, change, x);
    if (!(moved <= 2.0 * kLargestMove) && step > 1e-9) {
      step *= 0.3;
      continue;
    }
    x = unpacked(eq, packed(x) + change);
    if (moved < kLargestMove) step = std::min(1.5 * step, kLongest);
  }
  return false;
}

std::optional<State> rest_from_cold(const Model& model) {
  State x = Equations(model.net.graph).at_rest();
  if (!relax(model, {}, x)) return std::nullopt;
  return x;
}

Steady solve_from_cold(const geometry::Case& content, Model& model) {
  Model fresh = model;
  Steady cold = solve_steady(content, model.layout, model.net);
  if (cold.summary.stop != StopReason::stalled) return cold;
  const auto rest = rest_from_cold(fresh);
  if (!rest) return cold;
  Steady later = solve_steady(content, fresh.layout, fresh.net, &*rest);
  if (!later.summary.converged()) return cold;
  model = std::move(fresh);
  return later;
}

Starts starts_around(const Model& model, const State& cold) {
  Starts out;
  std::vector<Start>& starts = out.starts;
  const Graph& graph = model.net.graph;
  Equations eq(graph);
  State hot = cold;
  const double warmest =
      std::max(graph.ambient.temperature,
               cold.temperature.size() > 0 ? cold.temperature.maxCoeff() : graph.ambient.temperature);
  hot.temperature.setConstant(warmest + kHotter);
  starts.push_back({"started hot", hot});
  const double forced = std::max(cold.flow.lpNorm<Eigen::Infinity>(),
                                 whole_power(graph) / (eq.heat_capacity() * kForcedWarming));
  if (forced == 0.0) return out;
  const Loops loops(eq);
  const std::vector<int> driven = chosen_loops(graph, loops.closing());
  out.loops = static_cast<int>(loops.closing().size());
  out.driven = static_cast<int>(driven.size());
  for (int closing : driven) {
    const VectorXd circulation = loops.circulation(closing);
    for (const double sign : {-1.0, 1.0}) {
      if (sign * cold.flow[closing] > kSameWay * forced) continue;
      State x = cold;
      x.flow += (sign * forced - cold.flow[closing]) * circulation;
      if (!heat_up(eq, x)) continue;
      starts.push_back({"flow through '" + network::flow_name(graph, closing) + "' first driven " +
                            (sign > 0.0 ? "its way" : "backwards"),
                        x});
    }
  }
  return out;
}

}  // namespace tuft::network
