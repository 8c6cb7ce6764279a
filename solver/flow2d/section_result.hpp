// What a section gives: finished plain data, for judges, writers and figures.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/section_plane.hpp"
#include "solver/flow2d/steadiness.hpp"

namespace tuft::flow2d {

/// What a cell is.
enum class Part {
  air = 0,
  chassis = 1,
  support = 2,  ///< table, bed, wall: what the device lies on or hangs against
  screen = 3,
  vent_cell = 4  ///< the air just inside a vent, where its flow is given or drawn
};
/// Whether a cell of that part holds air.
inline bool is_air(int part) { return part == int(Part::air) || part == int(Part::vent_cell); }

enum class VentCut {
  missed,  ///< the plane does not meet it
  cut,
  shut,   ///< met, but what it lies on or the lid leaves no cell of air before it
  narrow  ///< met, but narrower in the plane than a cell can be
};

/// One vent in the plane. Flows are per metre across it.
struct SectionVent {
  VentCut cut = VentCut::missed;
  double length = 0.0;    ///< of the vent in the plane [m]
  double inflow = 0.0;    ///< into the device, gross, >= 0 [kg/(s m)]
  double outflow = 0.0;   ///< >= 0 [kg/(s m)]
  double speed = 0.0;     ///< mean normal speed of the larger of the two on `length` [m/s]
  double drawn = 0.0;     ///< mean temperature of the air it draws [K]; that of the room where it draws none
  double pressure = 0.0;  ///< mean p' right behind it [Pa]
};

/// Part of what an intake draws that an outlet has just let out.
struct Recirculation {
  int outlet = 0, intake = 0;  ///< indices into Device::vents
  double in_plane = 0.0;       ///< in the plane [-], 0..1
  double facing = 1.0;     ///< share of the intake's width across the plane that lies before the outlet's [-]
  double by_cells = 0.0;   ///< how far `in_plane` lies from its value on cells twice as large [-]
  double by_start = 0.0;   ///< of a mean: how far it may still move, by when its window starts [-]
  bool uncertain = false;  ///< `by_cells` is known
  double fraction() const { return in_plane * facing; }  ///< of all that the intake draws [-]
  /// Bounds of `fraction` by cells and by the window of a mean; without a known uncertainty from none to
  /// twice as much (judgement). That a plane has no sides for fresh air to come in by is not in it.
  double lowest() const { return facing * (uncertain ? std::max(0.0, in_plane - by_cells - by_start) : 0.0); }
  double highest() const {
    return facing * std::min(1.0, uncertain ? in_plane + by_cells + by_start : 2.0 * in_plane);
  }
};

/// Tracer of one outlet: share of the air in a cell that came out of it [-], 0..1.
struct Tracer {
  int outlet = 0;
  Array2 share;
};

enum class SectionEnd {
  steady,         ///< a steady state, with its balances closed
  averaged,       ///< no steady state was found; fields are means over `span` of a run in time
  not_converged,  ///< neither: the fields are the best there is and no solution
};

struct SectionResult {
  SectionEnd end = SectionEnd::not_converged;
  std::string message;  ///< how it went, for a person
  Plane plane;
  std::string why_plane;  ///< why the plane lies where it does
  Steadiness steadiness;
  bool first_order = true;                                   ///< convection of momentum and heat is upwind
  bool closure = false;                                      ///< with the mixing length
  int steps = 0, factorisations = 0, linear_iterations = 0;  ///< on the finest grid
  int marched_steps = 0;
  double begins = 0.0;       ///< of the window averaged over, after the start of the run in time [s]
  double span = 0.0;         ///< of that window [s]
  int passages = 0;          ///< of the fastest air across the device in it
  double fluctuation = 0.0;  ///< highest less lowest kinetic energy over `span`, over its mean [-]
  double residual = 0.0;     ///< scaled [-]
  double mass = 0.0;         ///< left over in all cells, summed, over the through-flow [-]
  double energy = 0.0;       ///< net heat over the heat passing [-]
  double tracer = 0.0;       ///< how far all tracers and the room's air are from adding to 1, worst cell [-]
  double gravity[2] = {0.0, 0.0};  ///< along the grid's axes [m/s2]
  double gravity_across = 0.0;     ///< share of gravity that points across the plane and is left out [-]
  double ambient_density = 0.0, ambient_temperature = 0.0;

  // Fields; x fastest. The grid's x is the device's axis plane.first(), its y plane.second().
  std::vector<double> x, y;     ///< faces of the cells in the device frame [m]
  Array2T<int> part;            ///< Part of each cell
  Array2T<int> vent;            ///< vent a mouth belongs to, -1 elsewhere
  Array2 u_face, v_face;        ///< velocities on the faces, nx+1 by ny and nx by ny+1 [m/s]
  Array2 u, v;                  ///< means over the cells, 0 in solids [m/s]
  Array2 pressure;              ///< p', against still air of the room at the same height [Pa]
  Array2 temperature;           ///< [K]; in solids without one, that of the room
  Array2 density;               ///< [kg/m3]
  std::vector<Tracer> tracers;  ///< one per outlet that is cut

  std::vector<SectionVent> vents;            ///< one per Device::vents
  std::vector<Recirculation> recirculation;  ///< every pair of an outlet and an intake that are cut
  std::vector<std::string> notes;            ///< what of the case the section can't show, one sentence each
  bool usable() const { return end != SectionEnd::not_converged; }
};

}  // namespace tuft::flow2d
