// Is a steady flow one that air stays in? How its small disturbances go on in time.
#pragma once

#include <vector>

#include "solver/flow2d/newton.hpp"

namespace tuft::flow2d {

/// The disturbance of a steady flow that grows fastest, or fades most slowly (docs/field.md, F35).
struct Growth {
  bool known = false;      ///< false: too few steps told it, and the rest means nothing
  double rate = 0.0;       ///< of its amplitude [1/s]; > 0: the flow is not stable
  double error = 0.0;      ///< of the rate, about [1/s]
  double frequency = 0.0;  ///< with which it swings [Hz]; 0: it does not
  int steps = 0;           ///< directions in which it was looked for
  /// Its shape by the unknowns of the flow, in their units; filled where it grows. The largest velocity or
  /// temperature is 1 in the measures of the system.
  std::vector<double> mode;
  bool grows() const { return known && rate > 0.0; }
  /// The air swings about the state that it grows from.
  bool swings() const { return grows() && frequency > 0.0; }
  /// The air goes away from that state, to another one.
  bool leads_away() const { return grows() && !swings(); }
};

/// Of a steady flow that `solver` has solved. Factors of the solver are lost. Works out the eigenvalues s of
/// J x = s M x: J the derivative of all balances, M that of what the air stores, which is nothing for
/// pressures and for what joins the layers.
Growth growth_of(const Fields& steady, NewtonSolver* solver);

}  // namespace tuft::flow2d
