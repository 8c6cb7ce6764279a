// Where does the air of each outlet go?
#pragma once

#include <array>
#include <vector>

#include "solver/flow2d/problem.hpp"
#include "solver/flow2d/section_model.hpp"

namespace tuft::flow2d {

/// Mass flows and conductances that carry tracers.
struct Carriers {
  std::array<Array2, 2> flow;         ///< through faces, + along the axes [kg/(s m)]
  std::array<Array2, 2> conductance;  ///< of heat through faces [W/(K m)]
  Array2 source, sink;  ///< air that enters and leaves cells through vents, both >= 0 [kg/(s m)]
};

struct Tracers {
  std::vector<Array2> share;  ///< one per outlet asked for, 0..1
  Array2 room;                ///< the room's air
  double error = 0.0;         ///< largest distance of their sum from 1
};

/// What the vents draw, and how much of it is each outlet's air [kg/(s m)].
struct DrawnAir {
  std::vector<int> outlets;                ///< indices into Device::vents
  std::vector<double> inflow;              ///< one per Device::vents
  std::vector<std::vector<double>> taken;  ///< per outlet, per vent
  /// Share of what a vent draws that is air of the k-th outlet [-], 0 where it draws nothing.
  double share(std::size_t k, std::size_t vent) const;
  void add(double weight, const DrawnAir& other);
};

/// Vents that let air out.
std::vector<int> outlets_of(const SectionModel& model, const Carriers& carriers);

DrawnAir drawn_of(const SectionModel& model, const Carriers& carriers, const std::vector<int>& outlets,
                  const Tracers& tracers);

/// Steady shares of what comes from the vents in `outlets` (F27): carried with the mass flows, upwind, and
/// spread as heat is (a tracer that is air diffuses about as fast; Lewis number 1). Every balance is divided
/// by its cell's own inflow, so that shares lie in 0..1 and add to 1 whatever little mass is left over. Flow
/// that enters through a rim brings none.
Tracers solve_tracers(const SectionModel& model, const Carriers& carriers, const std::vector<int>& outlets);

/// What enters a cell of air, each part with the share of where it comes from [kg/(s m)].
struct TracerBalance {
  double source = 0.0;  ///< let out by its vent
  double room = 0.0;    ///< through a rim
  int neighbours = 0;
  std::array<int, 4> i{}, j{};
  std::array<double, 4> carried{};  ///< from a neighbour: by flow, and by what the two exchange
  /// All of it: the cell's own share takes this part along.
  double whole() const;
};

TracerBalance tracer_balance(const Problem& problem, const Carriers& carriers, int i, int j);

/// Largest distance of all shares' sum from 1, over the cells of air.
double sum_error(const SectionModel& model, const Tracers& tracers);

/// The same in time: what gusts carry is in it, which the steady shares in a mean flow leave out.
class TracerMarcher {
 public:
  /// Starts from the steady shares in `carriers`. `model` must outlive the object.
  TracerMarcher(const SectionModel& model, const Carriers& carriers, std::vector<int> outlets);
  /// Carries the shares on for `dt` [s] in a flow that stays the same over it, in as many explicit steps as
  /// keep them within 0..1. `density` of the cells [kg/m3].
  void step(const Carriers& carriers, const Array2& density, double dt);
  const Tracers& now() const { return now_; }
  const std::vector<int>& outlets() const { return outlets_; }

 private:
  const SectionModel& model_;
  std::vector<int> outlets_;
  Tracers now_;
};

}  // namespace tuft::flow2d
