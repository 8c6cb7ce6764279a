#include "solver/network/starts.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/dense.hpp"
#include "solver/network/transient_jacobian.hpp"

namespace tuft::heat {
namespace {

using Eigen::VectorXd;
using network::Equations;
using network::kOutside;
using network::State;

constexpr double kHotter = 80.0;         // than the room, in the hot start [K]
constexpr double kForcedWarming = 30.0;  // of the air of a forced flow that takes all the power along [K]
constexpr double kSameWay = 0.3;         // share of the forced flow from which on the cold state goes its way
constexpr int kHeatRounds = 30;

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
        parent_[static_cast<std::size_t>(a ? eq.side_b(e) : eq.side_a(e))] = e;
        in_tree[static_cast<std::size_t>(e)] = grown = true;
      }
    }
    for (int e = 0; e < eq.n_flows(); ++e)
      if (!in_tree[static_cast<std::size_t>(e)]) closing_.push_back(e);
  }

  const std::vector<int>& closing() const { return closing_; }

  // Unit flow through the closing element from its a to its b, and back through the tree.
  VectorXd circulation(int closing) const {
    VectorXd flow = VectorXd::Zero(eq_.n_flows());
    flow[closing] = 1.0;
    follow(eq_.side_b(closing), 1.0, flow);
    follow(eq_.side_a(closing), -1.0, flow);
    return flow;
  }

 private:
  bool reached(int node) const { return node == kOutside || parent_[static_cast<std::size_t>(node)] >= 0; }

  // Takes `amount` from a node to the room along the tree.
  void follow(int node, double amount, VectorXd& flow) const {
    while (node != kOutside) {
      const int e = parent_[static_cast<std::size_t>(node)];
      const bool forward = eq_.side_a(e) == node;
      flow[e] += forward ? amount : -amount;
      node = forward ? eq_.side_b(e) : eq_.side_a(e);
    }
  }

  const Equations& eq_;
  std::vector<int> parent_;  // element that leads to each node
  std::vector<int> closing_;
};

// Temperatures at given flows, by Newton's method on the heat alone.
bool warm_up(Equations& eq, State& x) {
  const int n = eq.n_temperatures();
  for (int i = 0; i < kHeatRounds; ++i) {
    eq.evaluate(x);
    const VectorXd heat = transient_residual(eq, x).tail(n);
    const VectorXd change =
        base::DenseLu(transient_jacobian(eq, x).matrix.bottomRightCorner(n, n)).solve(-heat);
    if (!change.allFinite()) return false;
    const double largest = change.cwiseAbs().maxCoeff();
    x.temperature += std::min(1.0, 100.0 / std::max(largest, 1e-300)) * change;
    if (largest < 1e-6) return true;
  }
  return false;
}

double whole_power(const network::Graph& graph) {
  double power = 0.0;
  for (const auto& node : graph.nodes) power += std::abs(node.power);
  for (const auto& body : graph.bodies) power += std::abs(body.power);
  return power;
}

std::string name_of(const network::Graph& graph, int e) {
  const auto i = static_cast<std::size_t>(e);
  return i < graph.openings.size() ? graph.openings[i].name : graph.fans[i - graph.openings.size()].name;
}

}  // namespace

std::vector<Start> starts_around(const Model& model, const State& cold) {
  std::vector<Start> starts;
  const network::Graph& graph = model.net.graph;
  Equations eq(graph);
  State hot = cold;
  const double warmest =
      std::max(graph.ambient.temperature,
               cold.temperature.size() > 0 ? cold.temperature.maxCoeff() : graph.ambient.temperature);
  hot.temperature.setConstant(warmest + kHotter);
  starts.push_back({"started hot", hot});
  const double forced = std::max(cold.flow.size() > 0 ? cold.flow.cwiseAbs().maxCoeff() : 0.0,
                                 whole_power(graph) / (eq.heat_capacity() * kForcedWarming));
  if (forced == 0.0) return starts;
  const Loops loops(eq);
  for (int closing : loops.closing()) {
    const VectorXd circulation = loops.circulation(closing);
    for (const double sign : {-1.0, 1.0}) {
      if (sign * cold.flow[closing] > kSameWay * forced) continue;
      State x = cold;
      x.flow += (sign * forced - cold.flow[closing]) * circulation;
      if (!warm_up(eq, x)) continue;
      starts.push_back({"flow through '" + name_of(graph, closing) + "' first driven " +
                            (sign > 0.0 ? "its way" : "backwards"),
                        x});
    }
  }
  return starts;
}

}  // namespace tuft::heat
