#include "solver/flow2d/cell_pass.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tuft::field {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();

// One axis of a cell: flow at its two ends, and the air in the cell.
struct Way {
  double low, high, mass;

  double flow(double at) const { return low + (high - low) * at; }

  // When a particle gets to the end it moves towards [s].
  double time_to_end(double at) const {
    const double here = flow(at), end = here > 0.0 ? high : low;
    if (here == 0.0 || !(end / here > 0.0)) return kNever;  // it turns, or comes to rest, before the face
    const double left = here > 0.0 ? 1.0 - at : at, change = end / here - 1.0;
    const double slowing = std::abs(change) < 1e-12 ? 1.0 : std::log1p(change) / change;
    return mass * left / std::abs(here) * slowing;
  }

  double after(double at, double time) const {
    const double growth = (high - low) / mass * time;
    const double stretch = std::abs(growth) < 1e-12 ? 1.0 : std::expm1(growth) / growth;
    return std::clamp(at + flow(at) / mass * time * stretch, 0.0, 1.0);
  }
};

}  // namespace

CellPass pass_cell(const CellFlow& flow, double x, double y, double most) {
  const Way across{flow.left, flow.right, flow.mass}, up{flow.bottom, flow.top, flow.mass};
  const double to_x = across.time_to_end(x), to_y = up.time_to_end(y);
  CellPass pass;
  pass.time = std::min({to_x, to_y, most});
  pass.x = across.after(x, pass.time);
  pass.y = up.after(y, pass.time);
  if (pass.time >= most) return pass;
  if (to_x <= to_y) {
    const bool right = across.flow(x) > 0.0;
    pass.exit = right ? CellExit::right : CellExit::left;
    pass.x = right ? 1.0 : 0.0;
  } else {
    const bool top = up.flow(y) > 0.0;
    pass.exit = top ? CellExit::top : CellExit::bottom;
    pass.y = top ? 1.0 : 0.0;
  }
  return pass;
}

}  // namespace tuft::field
