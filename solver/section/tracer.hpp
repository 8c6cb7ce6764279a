// Where does the air of each outlet go?
#pragma once

#include <array>
#include <vector>

#include "solver/field/problem.hpp"
#include "solver/section/model.hpp"

namespace tuft::section {

/// Mass flows and conductances that carry tracers.
struct Carriers {
  std::array<field::Array2, 2> flow;         ///< through faces, + along the axes [kg/(s m)]
  std::array<field::Array2, 2> conductance;  ///< of heat through faces [W/(K m)]
  field::Array2 source, sink;  ///< air that enters and leaves cells through vents, both >= 0 [kg/(s m)]
};

struct Tracers {
  std::vector<field::Array2> share;  ///< one per outlet asked for, 0..1
  field::Array2 room;                ///< the room's air
  double error = 0.0;                ///< largest distance of their sum from 1
};

/// Steady shares of what comes from the vents in `outlets` (F27): carried with the mass flows, upwind, and
/// spread as heat is (a tracer that is air diffuses about as fast; Lewis number 1). Every balance is divided
/// by its cell's own inflow, so that shares lie in 0..1 and add to 1 whatever little mass is left over. Flow
/// that enters through a rim brings none. Vents by pressure count as outlets with what they let out.
Tracers solve_tracers(const Model& model, const Carriers& carriers, const std::vector<int>& outlets);

}  // namespace tuft::section
