#include "solver/network/continuation.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>

#include "solver/network/stability.hpp"
#include "solver/numerics/dense.hpp"

namespace tuft::network {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kTolerance = 1e-10;  // scaled residual of an accepted point
constexpr int kMostCorrections = 12;
constexpr double kKnobDifference = 1e-5;  // for derivatives by the parameter
constexpr double kFoldLength = 1e-9;      // over which a fold is located
// Steps along the curve, in units of the scaled state and the parameter; where even the smallest fails the
// trace ends.
constexpr double kFirstStep = 0.02, kLargestStep = 0.25, kSmallestStep = 1e-9;
constexpr double kSlowTurn = 0.9;   // cosine between tangents from which on a step may lengthen
constexpr double kSharpTurn = 0.3;  // ... and below which it is tried again, shorter

// The equations of one model; the graph stays where it is.
class Point {
 public:
  Point(Model model, const Held& held)
      : model_(std::make_unique<Model>(std::move(model))), equations_(model_->net.graph) {
    for (const auto& [temperature, value] : held) equations_.hold(temperature, value);
  }
  VectorXd residual(const VectorXd& u) {
    const State x = unpacked(equations_, u);
    equations_.evaluate(x);
    return equations_.residual(x);
  }
  TransientJacobian jacobian(const VectorXd& u) {
    return transient_jacobian(equations_, unpacked(equations_, u));
  }
  // Of Newton's method, at the point last evaluated.
  VectorXd change(const VectorXd& u, LinearStep& step) const {
    return implicit_change(equations_, unpacked(equations_, u), 0.0, step);
  }
  const Equations& equations() const { return equations_; }
  const Graph& graph() const { return model_->net.graph; }

 private:
  std::unique_ptr<Model> model_;
  Equations equations_;
};

class Tracer {
 public:
  Tracer(const Family& family, const State& start, double parameter, const TraceOptions& options)
      : family_(family),
        options_(options),
        origin_(family.at(parameter), family.held),
        start_parameter_(parameter) {
    const VectorXd u = packed(start);
    row_scale_ = origin_.equations().residual_scale();
    set_units(start);
    z_.resize(u.size() + 1);
    z_ << u.cwiseQuotient(unit_), parameter;
  }

  Trace run(bool rising) {
    Trace out;
    record(out, z_);
    first_ = z_;
    sense_ = 0.0;
    std::optional<VectorXd> tangent = tangent_at(z_, VectorXd::Unit(z_.size(), last()) * (rising ? 1. : -1.));
    double step = kFirstStep;
    while (tangent && out.end == TraceEnd::stuck) {
      if (static_cast<int>(out.points.size()) >= options_.max_points)
        out.end = TraceEnd::points;
      else if (!advance(*tangent, step, out))
        break;
    }
    return out;
  }

 private:
  Eigen::Index last() const { return z_.size() - 1; }

  // What a change of each unknown is counted in along the curve: the state's own largest flow and rise.
  void set_units(const State& x) {
    const Equations& eq = origin_.equations();
    const auto [flow, rise] = size_of(eq, x);
    unit_.resize(eq.n_flows() + eq.n_nodes() + eq.n_temperatures());
    unit_ << VectorXd::Constant(eq.n_flows(), flow), VectorXd::Constant(eq.n_nodes(), eq.scales().pressure),
        VectorXd::Constant(eq.n_temperatures(), rise);
  }

  // None where the layout is another.
  std::optional<Point> point_at(double parameter) const {
    Point point(family_.at(parameter), family_.held);
    if (!same_layout(point.graph(), origin_.graph())) return std::nullopt;
    return point;
  }

  VectorXd unknowns(const VectorXd& z) const { return z.head(last()).cwiseProduct(unit_); }

  std::optional<VectorXd> scaled_residual(double parameter, const VectorXd& u) const {
    std::optional<Point> point = point_at(parameter);
    if (!point) return std::nullopt;
    return VectorXd(point->residual(u).cwiseQuotient(row_scale_));
  }

  std::optional<VectorXd> by_knob(const VectorXd& z) const {
    const VectorXd u = unknowns(z);
    const double parameter = z[last()];
    const auto up = scaled_residual(parameter + kKnobDifference, u);
    const auto down = scaled_residual(parameter - kKnobDifference, u);
    if (up && down) return VectorXd((*up - *down) / (2.0 * kKnobDifference));
    const auto here = scaled_residual(parameter, u);
    if (up && here) return VectorXd((*up - *here) / kKnobDifference);
    if (down && here) return VectorXd((*here - *down) / kKnobDifference);
    return std::nullopt;
  }

  // [ J  F_knob ; border ], scaled.
  MatrixXd bordered(const TransientJacobian& j, const VectorXd& parameter_column,
                    const VectorXd& border) const {
    const Eigen::Index n = last();
    MatrixXd m(n + 1, n + 1);
    m.topLeftCorner(n, n) = row_scale_.cwiseInverse().asDiagonal() * j.matrix * unit_.asDiagonal();
    m.topRightCorner(n, 1) = parameter_column;
    m.bottomRows(1) = border.transpose();
    return m;
  }

  // Unit tangent at a point of the curve. Which way it points is told by the sign of the bordered matrix'
  // determinant, which stays the same along the curve, round corners too: there the new tangent may well
  // point against the old one, `before`. The first of all points along `before`.
  std::optional<VectorXd> tangent_at(const VectorXd& z, const VectorXd& before) {
    std::optional<Point> point = point_at(z[last()]);
    const std::optional<VectorXd> column = by_knob(z);
    if (!point || !column) return std::nullopt;
    const VectorXd u = unknowns(z);
    point->residual(u);
    const numerics::DenseLu lu(bordered(point->jacobian(u), *column, before));
    VectorXd t = lu.solve(VectorXd::Unit(z.size(), last()));
    if (!t.allFinite() || t.norm() == 0.0) return std::nullopt;
    t.normalize();
    const double sense = lu.determinant_sign();
    if (sense_ == 0.0) sense_ = sense;
    return VectorXd(sense_ * sense * t);
  }

  // Newton's method on the curve within the plane border . (z - guess) = 0.
  std::optional<VectorXd> corrected(const VectorXd& guess, const VectorXd& border) {
    VectorXd z = guess;
    std::optional<VectorXd> column;
    double before = HUGE_VAL;
    for (int i = 0; i < kMostCorrections; ++i) {
      std::optional<Point> point = point_at(z[last()]);
      if (!point) {
        left_layout_ = true;
        return std::nullopt;
      }
      const VectorXd u = unknowns(z);
      VectorXd right(z.size());
      right << -point->residual(u).cwiseQuotient(row_scale_), -border.dot(z - guess);
      const double norm = right.cwiseAbs().maxCoeff();
      if (!(norm < 1e3) || (i > 3 && norm > before)) {
        if (before <= kTolerance) return z;
        return std::nullopt;
      }
      if (!column) column = by_knob(z);
      if (!column) return std::nullopt;
      const VectorXd d = numerics::DenseLu(bordered(point->jacobian(u), *column, border)).solve(right);
      if (!d.allFinite()) return std::nullopt;
      z += d;
      if (norm <= kTolerance) return z;  // the step just made is the polish
      before = norm;
    }
    return std::nullopt;
  }

  State state_of(const VectorXd& z) const { return unpacked(origin_.equations(), unknowns(z)); }

  void record(Trace& out, const VectorXd& z) { out.points.push_back({z[last()], state_of(z)}); }

  bool belongs(const VectorXd& z) const {
    if (!family_.belongs) return true;
    std::optional<Point> point = point_at(z[last()]);
    if (!point) return false;
    point->residual(unknowns(z));
    return family_.belongs(z[last()], point->equations(), state_of(z));
  }

  // One step along the curve. False when even the smallest step fails.
  bool advance(VectorXd& tangent, double& step, Trace& out) {
    while (step >= kSmallestStep) {
      left_layout_ = false;
      const std::optional<VectorXd> next = corrected(z_ + step * tangent, tangent);
      std::optional<VectorXd> turned;
      if (next) turned = tangent_at(*next, tangent);
      const double cosine = turned ? turned->dot(tangent) : -1.0;
      // A sharp turn is walked round in small steps; at a corner no step is small enough.
      if (!turned || cosine < kSharpTurn) {
        step *= 0.25;
        continue;
      }
      take_step(*next, tangent, *turned, step, out);
      tangent = *turned;
      z_ = *next;
      if (cosine > kSlowTurn) step = std::min(1.5 * step, kLargestStep);
      if (cosine < 0.5 * (kSlowTurn + kSharpTurn)) step *= 0.5;
      return true;
    }
    if (left_layout_) {
      out.end = TraceEnd::layout;
      return false;
    }
    return turn_corner(tangent, step, out);
  }

  // No step forward succeeds: a corner lies right ahead, where a flow or a table's line turns. Takes the
  // tangent of the piece beyond it, and a step along that.
  bool turn_corner(VectorXd& tangent, double& step, Trace& out) {
    const double beyond = 10.0 * kSmallestStep;
    const std::optional<VectorXd> other = tangent_at(z_ + beyond * tangent, tangent);
    if (!other) return false;
    step = 100.0 * beyond;
    const std::optional<VectorXd> next = corrected(z_ + step * *other, *other);
    const std::optional<VectorXd> turned = next ? tangent_at(*next, *other) : std::nullopt;
    if (!turned || turned->dot(*other) < kSlowTurn) return false;
    if (tangent[last()] * (*turned)[last()] < 0.0) {
      out.folds.push_back({z_[last()], state_of(z_)});
      if (options_.stop_at_fold) out.end = TraceEnd::fold;
    }
    record(out, *next);
    tangent = *turned;
    z_ = *next;
    return true;
  }

  void take_step(const VectorXd& next, const VectorXd& tangent, const VectorXd& turned, double step,
                 Trace& out) {
    if (!belongs(next)) {
      out.end = TraceEnd::limits;
      return;
    }
    const double parameter = next[last()];
    if (tangent[last()] * turned[last()] < 0.0) {
      add_fold(tangent, step, next, out);
      if (options_.stop_at_fold) out.end = TraceEnd::fold;
    }
    // Within a step over a fold the starting value may be passed twice; such steps are short.
    if ((z_[last()] - start_parameter_) * (parameter - start_parameter_) < 0.0) add_return(next, out);
    record(out, next);
    if (parameter < options_.low || parameter > options_.high) out.end = TraceEnd::range;
  }

  // Between z_ and `next` the parameter turns back: halves the step until that is known.
  void add_fold(const VectorXd& tangent, double step, const VectorXd& next, Trace& out) {
    double low = 0.0, high = step;
    VectorXd best = next;
    while (high - low > kFoldLength) {
      const double middle = 0.5 * (low + high);
      const std::optional<VectorXd> z = corrected(z_ + middle * tangent, tangent);
      const std::optional<VectorXd> t = z ? tangent_at(*z, tangent) : std::nullopt;
      if (!t) break;
      best = *z;
      ((*t)[last()] * tangent[last()] > 0.0 ? low : high) = middle;
    }
    out.folds.push_back({best[last()], state_of(best)});
  }

  // Between z_ and `next` the parameter passes its starting value.
  void add_return(const VectorXd& next, Trace& out) {
    const double share = (start_parameter_ - z_[last()]) / (next[last()] - z_[last()]);
    VectorXd guess = z_ + share * (next - z_);
    guess[last()] = start_parameter_;
    const std::optional<VectorXd> z = corrected(guess, VectorXd::Unit(z_.size(), last()));
    if (!z) return;
    if ((*z - first_).cwiseAbs().maxCoeff() < 1e-6) {
      out.end = TraceEnd::closed;
      return;
    }
    out.returns.push_back({(*z)[last()], state_of(*z)});
  }

  const Family& family_;
  const TraceOptions& options_;
  Point origin_;
  double start_parameter_;
  VectorXd row_scale_, unit_;
  VectorXd z_, first_;  // unknowns in their units, then the parameter
  double sense_ = 0.0;  // of the determinant, from the first tangent on
  bool left_layout_ = false;
};

}  // namespace

bool newton(const Model& model, const Held& held, State& guess) {
  Point point(model, held);
  const VectorXd& row_scale = point.equations().residual_scale();
  VectorXd u = packed(guess);
  LinearStep step(point.equations());
  double before = HUGE_VAL;
  for (int i = 0; i < 3 * kMostCorrections; ++i) {
    const VectorXd residual = point.residual(u);
    const double norm = residual.cwiseQuotient(row_scale).cwiseAbs().maxCoeff();
    if (!(norm < 1e6)) return false;
    if (before <= kTolerance && norm >= before) break;  // nothing left but round-off
    const VectorXd change = point.change(u, step);
    if (change.size() == 0 || !change.allFinite()) return false;
    u += change;
    before = norm;
    if (norm <= 1e-13) break;
  }
  if (!(before <= kTolerance)) return false;
  guess = unpacked(point.equations(), u);
  return true;
}

Trace trace(const Family& family, const State& start, double parameter, bool rising,
            const TraceOptions& options) {
  return Tracer(family, start, parameter, options).run(rising);
}

}  // namespace tuft::network
