// Particles of air carried through grids that are joined by vents, fans and passages (F39, F40).
#pragma once

#include <vector>

#include "solver/flow2d/array2.hpp"

namespace tuft::flow2d {

/// Masses that pass the four faces of a cell, + along the axes, and the air in it.
struct CellFlow {
  double left = 0.0, right = 0.0;  ///< [kg/s]; a section: [kg/(s m)]
  double bottom = 0.0, top = 0.0;
  double mass = 0.0;  ///< > 0 [kg]; a section: [kg/m]
};

enum class CellExit { none, left, right, bottom, top };

/// Where a particle is after its way through a cell, or through part of it.
struct CellPass {
  double x = 0.0, y = 0.0;  ///< in the cell, 0..1 from its lower left corner [-]
  double time = 0.0;        ///< taken [s]
  CellExit exit = CellExit::none;
};

/// From a place in the cell to the face it leaves by, or as far as it comes in `most` seconds. The flow
/// through the cell changes evenly from face to face along each axis, so the way is known in closed form:
/// nothing is stepped, no particle leaves by a face without flow, and where the faces of all cells balance, a
/// closed streamline is closed (Pollock's method, Ground Water 26(6), 1988; from memory, derived anew).
CellPass pass_cell(const CellFlow& flow, double x, double y, double most);

/// A cell that takes part of a stream, and where in it the air arrives.
struct Landing {
  int grid = 0, i = 0, j = 0;
  double share = 1.0;              ///< of the stream [-]; those of one stream need not add to 1
  CellExit side = CellExit::none;  ///< the face it comes in by; none: anywhere in the cell
};

/// What becomes of air that leaves a cell otherwise than to its neighbours.
struct Gate {
  std::vector<Landing> to;  ///< empty: it leaves all grids
  int name = -1;            ///< the caller's name for it, such as a vent
};

/// Air that leaves a cell through its floor or ceiling.
struct Leak {
  double flow = 0.0;  ///< > 0 [kg/s]
  int gate = 0;       ///< into TrackFlow::gates
};

/// One grid of cells with the flows between them, of a steady state.
struct FlowGrid {
  std::vector<double> x, y;     ///< faces of the cells [m]
  Array2 u, v;                  ///< through the faces, + along the axes, (nx+1) x ny and nx x (ny+1) [kg/s]
  Array2 mass;                  ///< air in the cells [kg]; 0: solid
  Array2T<int> gate_u, gate_v;  ///< gate in a face, -1: none; a face of the rim without one is open
  Array2T<std::vector<Leak>> leaks;
  int nx() const { return static_cast<int>(x.size()) - 1; }
  int ny() const { return static_cast<int>(y.size()) - 1; }
};

/// A grid with these faces, without air, flows, gates or leaks yet.
FlowGrid empty_grid(std::vector<double> x, std::vector<double> y);

/// Side of a cell between its faces [m].
inline double side(const std::vector<double>& faces, int cell) {
  return faces[static_cast<std::size_t>(cell) + 1] - faces[cell];
}

/// A quantity of two cells at the face between them, linear from middle to middle, as the solver has it.
inline double at_face(double before, double after, double width_before, double width_after) {
  return (before * width_after + after * width_before) / (width_before + width_after);
}

/// Air that comes in from outside of all grids.
struct TrackSource {
  double flow = 0.0;  ///< > 0 [kg/s]
  int name = -1;
  std::vector<Landing> to;
};

struct TrackFlow {
  std::vector<FlowGrid> grids;
  std::vector<Gate> gates;
  std::vector<TrackSource> sources;
};

enum class TrackEnd {
  gate,  ///< left by a gate without landings: Track::to names it
  rim,   ///< left by the open rim of a grid
  late   ///< still on its way when its time was up
};

struct TrackPoint {
  int grid = 0;
  double x = 0.0, y = 0.0;  ///< [m]
  double age = 0.0;         ///< since it came in [s]
  bool jumped = false;      ///< not by the plane of the grid from the point before, but through a gate
};

struct Track {
  std::vector<TrackPoint> points;  ///< at least one, ages rising
  int from = -1, to = -1;          ///< names of source and gate; -1 where there is none
  TrackEnd end = TrackEnd::late;
};

/// `count` particles, released in proportion to the flow of every source and followed for `longest` seconds
/// at most. A cell's air is mixed over its depth: a particle leaves it through a leak with the chance that
/// any of its air has to. Chances are drawn from a generator of the particle's own number, so the same flows
/// give the same tracks. Throws std::invalid_argument for a count < 0, or a longest time that is not > 0.
std::vector<Track> follow_tracks(const TrackFlow& flow, int count, double longest);

}  // namespace tuft::flow2d
