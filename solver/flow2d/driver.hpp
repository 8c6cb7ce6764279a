// How a flow is found: the one way for plan layers, sections and cavities (docs/field.md, F12, F31).
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "solver/flow2d/growth.hpp"
#include "solver/flow2d/march.hpp"
#include "solver/flow2d/steadiness.hpp"

namespace tuft::flow2d {

/// A flow that is like the one asked for and easier to find.
struct Stage {
  double share = 1.0;      ///< of the air's inertia
  double thicker = 1.0;    ///< factor on the air's viscosity and conductivity
  bool energy = true;      ///< false: temperatures are held
  double residual = 1e-3;  ///< how far it is followed, or as far as the flow itself is asked for
  double courant = 1e4;    ///< of the first step
  int most_steps = 1000;   ///< or as many as are allowed anyway
};

/// How to begin with a kind of flow.
struct Strategy {
  /// Where nothing is known but this grid, one after another, each from what the one before it gave; what
  /// comes behind one that is not found is left out.
  std::vector<Stage> first;
  /// Where a coarser grid gave a start: the first of these that is found is enough; none: as `first`.
  std::vector<Stage> near;
  /// Where none of those is: one after another from the same start. All must be found; else `first` follows.
  std::vector<Stage> between;
  double rough_courant = 1e6;  ///< with which a coarser grid's whole flow is then roughly found
  int rough_steps = 1000;
  std::vector<double> courants;  ///< first ones with which the flow asked for is tried
  /// From a coarser grid's flow the scheme asked for is tried at once; upwind, which always has a steady
  /// state, then comes first only where that is in vain.
  bool scheme_at_once = false;
  std::vector<Stage> again;  ///< as `first`, where none of them finds it
};

/// A flow as the driver asks for it: on a grid, and on coarser ones.
class Task {
 public:
  virtual ~Task() = default;
  virtual int n_levels() const = 0;  ///< grids; the last is the one asked for
  virtual const Flow& flow(int level) = 0;
  /// The fields to begin with where nothing is known but this grid.
  virtual Fields start(int level) = 0;
  /// Fields of one grid on the next.
  virtual Fields carried(int level, const Fields& fields) = 0;
};

/// A problem that stands alone, on grids over the same rectangle, the coarsest first.
class SingleGridTask : public Task {
 public:
  /// The problems outlive the object.
  explicit SingleGridTask(const std::vector<Problem*>& grids);
  int n_levels() const override { return static_cast<int>(flows_.size()); }
  const Flow& flow(int level) override { return flows_[level]; }
  Fields start(int level) override;
  /// Where heat is left out the temperature stays the room's to the last bit.
  Fields carried(int level, const Fields& fields) override;

 private:
  std::vector<Flow> flows_;
};

/// For sections: far thicker air first on the coarsest grid, and careful steps on every grid.
Strategy thick_air_first();

/// For problems that stand alone: the same on the coarsest grid, and bold steps from each grid to the next.
Strategy bold_from_coarse();

/// Watches a run in time, and takes the means of what does not come to rest.
class Monitor {
 public:
  virtual ~Monitor() = default;
  /// How many times the air passed in the step that `march` has taken.
  virtual double passed(const March& march, const MarchStep& step) = 0;
  /// Called after that. True: what is there of means is enough.
  virtual bool take(const March& march, const MarchStep& step) = 0;
  /// Whether what was taken is a mean.
  virtual bool is_mean() const = 0;
  virtual Fields mean() const = 0;
};

struct RunOptions {
  MarchOptions march;
  int most_steps = 0;  ///< 0: no run in time
  /// Called where a flow is to be run in time, with the fields it starts from; nothing: only what comes to
  /// rest is of use, and march.passage is how long the air takes to pass. `passages`: 0, or after how many of
  /// them there is nothing more to wait for.
  std::function<std::unique_ptr<Monitor>(const Fields&, double passages)> monitor;
  double passages = 0.0;
};

struct DriverOptions {
  /// Convection of momentum and heat. Upwind always has a steady state to find; another one starts from it
  /// and is kept only where it converges.
  Convection scheme = Convection::upwind;
  NewtonOptions newton;  ///< tolerances, steps, observer
  RunOptions in_time;    ///< where no steady state is found, or one that is not stable
  bool stable = true;    ///< tell whether a steady state is stable, and leave one that is not
  /// Leave a state also along a disturbance that swings, for the means of the swings, and along one that
  /// grows slowly beside the air's passing.
  bool leave_all = false;
};

enum class FlowEnd {
  steady,
  reduced,   ///< only with less inertia than the air has
  averaged,  ///< no steady state was found: means of a run in time
  not_found
};

struct FoundFlow {
  FlowEnd end = FlowEnd::not_found;
  std::string message;  ///< how it went, for a person
  Fields fields;
  double share = 1.0;                ///< of the air's inertia in them
  bool first_order = true;           ///< convection is upwind
  NewtonSummary newton;              ///< last attempt; its audit is that of the fields where they are steady
  int marched_steps = 0;             ///< in time
  double marched = 0.0;              ///< run through in them [s]
  double passages = 0.0;             ///< times the air passed in the run
  double mass = 0.0, energy = 0.0;   ///< worst of all steps in time
  std::unique_ptr<Monitor> monitor;  ///< of the run in time, where there was one
  Growth growth;                     ///< of a disturbance of the steady fields returned
  double left_growth = 0.0;          ///< > 0: a steady state was left in which one grows at this rate [1/s]
  bool steady() const { return end == FlowEnd::steady; }
  Steadiness steadiness() const {
    if (!steady()) return {false, 0.0, 0.0, left_growth};
    return {growth.known, growth.rate, growth.frequency, left_growth};
  }
};

/// Why steps led nowhere, as a sentence without its full stop, from how the residual went.
std::string why_no_steady_state(const NewtonSummary& summary, bool limited);

/// Finds the flows of a task.
class Driver {
 public:
  /// The task outlives the object. Where a problem of it breaks a rule (Problem::problem), whatever works on
  /// it throws std::invalid_argument.
  Driver(Task* task, const Strategy& strategy);
  ~Driver();

  /// A rough flow on a grid, from fields of it (`near`: a coarser grid's) or from nothing: what a finer grid
  /// starts from. A state found to the last digit is no better start, and where jets have several states
  /// often a worse one. False where nothing was found; *fields is left then.
  bool approach(int level, bool near, const NewtonOptions& options, Fields* fields);

  /// The flow on a grid, from such fields.
  FoundFlow find(int level, bool near, const DriverOptions& options, Fields fields);

  /// All grids from the coarsest on, then the last as asked for.
  FoundFlow run(const DriverOptions& options);

 private:
  class Level;
  Level& level_of(int level);
  double stages(Level* level, bool near, const NewtonOptions& options, Fields* fields,
                NewtonSummary* summary);
  bool find_whole(Level* level, double share, const NewtonOptions& options, Fields* fields,
                  NewtonSummary* summary);
  bool run_in_time(Level* level, const DriverOptions& options, FoundFlow* found);
  void leave_unstable(Level* level, const DriverOptions& options, FoundFlow* found);
  void follow_swing(Level* level, const DriverOptions& options, FoundFlow* found);
  void raise_order(Level* level, const DriverOptions& options, FoundFlow* found);

  Task& task_;
  const Strategy strategy_;
  std::map<int, std::unique_ptr<Level>> levels_;
};

}  // namespace tuft::flow2d
