// Follows a steady state while one parameter turns, round its folds, stable or not.
#pragma once

#include <functional>
#include <vector>

#include "solver/network/continuation_parameters.hpp"

namespace tuft::network {

/// A family of networks along one parameter, all alike in layout.
struct Family {
  std::function<Model(double)> at;  ///< the model at a value of the parameter, limits applied
  Held held;                        ///< temperatures held on the whole way
  /// False where the states stop to belong to the family (a limit starts to act). May be empty.
  std::function<bool(double, const Equations&, const State&)> belongs;
};

struct TraceOptions {
  double low = 0.0, high = 4.0;  ///< of the parameter; the trace ends beyond
  int max_points = 400;          ///< > 0
  bool stop_at_fold = false;     ///< look for the first fold only
};

/// One place on the curve.
struct CurvePoint {
  double parameter = 0.0;
  State state;
};

/// Why a trace ended.
enum class TraceEnd {
  range,   ///< the parameter left [low, high]
  closed,  ///< it came back to where it started
  layout,  ///< the device lies on another face from here on: other openings, another family
  limits,  ///< a source's limit starts or stops to act
  fold,    ///< the first fold, where that was asked for
  stuck,   ///< no further point could be found
  points   ///< max_points reached
};

struct Trace {
  std::vector<CurvePoint> points;   ///< accepted points, the start first
  std::vector<CurvePoint> folds;    ///< where the parameter turns back, in the order met
  std::vector<CurvePoint> returns;  ///< where the curve passes the starting value of the parameter again
  TraceEnd end = TraceEnd::stuck;
};

/// A steady state of the model nearby `guess` by plain Newton steps, held temperatures held; stable or not.
/// False when none was found; `guess` is then unchanged.
bool newton(const Model& model, const Held& held, State& guess);

/// Follows the curve of steady states from a state at `parameter` (converged there), the parameter first
/// rising or falling: pseudo-arclength steps (Keller 1977, from memory), each corrected by Newton's method on
/// state and parameter together, so that a fold is a point like any other (B3). A fold is located by halving
/// the step until the parameter's share of the tangent changes sign over 1e-9 of the curve. At a corner (a
/// flow that turns, the kink of a table) the curve goes on along the tangent of the piece beyond; where that
/// turns the parameter back, the corner is a fold as well.
Trace trace(const Family& family, const State& start, double parameter, bool rising,
            const TraceOptions& options = {});

}  // namespace tuft::network
