#include "solver/section/solve.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>
#include <stdexcept>

#include "solver/section/collect.hpp"
#include "solver/section/run.hpp"

namespace tuft::section {
namespace {

using field::Convection;
using field::NewtonOptions;
using field::NewtonSolver;
using field::NewtonSummary;
using field::State;
using field::StepsEnd;

// A grid of two and of four times the cells' sides comes first; on the coarsest, far thicker air.
constexpr double kCoarser[] = {4.0, 2.0};
constexpr double kThicker[] = {256.0, 64.0, 16.0, 4.0};
// The same on the finest grid, when it was not found at once.
constexpr double kThickerAgain[] = {16.0, 6.0, 3.0, 2.0, 1.4};
// Bold first steps lead astray where the interpolated start has a jet beside a wall.
constexpr double kFirstCourant = 5.0;
// A mean over less than this many passages of the device's body is no mean.
constexpr double kPassages = 1.0;

void refuse(const std::string& what) { throw std::invalid_argument(what); }

void check_number(double value, double least, const char* name) {
  if (std::isfinite(value) && value >= least) return;
  char text[120];
  std::snprintf(text, sizeof text, "%s is %g; it must be finite and at least %g", name, value, least);
  refuse(text);
}

void check_given(const geometry::Device& device, const SectionGiven& given) {
  if (!given.vents.empty() && given.vents.size() != device.vents.size())
    refuse("SectionGiven::vents has " + std::to_string(given.vents.size()) + " entries; the device has " +
           std::to_string(device.vents.size()) + " vents");
  if (!given.skins.empty() && given.skins.size() != device.skins.size())
    refuse("SectionGiven::skins has " + std::to_string(given.skins.size()) + " entries; the device has " +
           std::to_string(device.skins.size()) + " patches of skin");
  for (const VentGiven& v : given.vents) {
    check_number(v.inflow, 0.0, "a vent's inflow");
    check_number(v.outflow, 0.0, "a vent's outflow");
    check_number(v.temperature, 0.0, "the temperature of a vent's air");
    check_number(std::abs(v.pressure), 0.0, "the pressure behind a vent");
  }
  for (double t : given.skins) check_number(t, 0.0, "a skin's temperature");
  check_number(given.chassis, 0.0, "the chassis' temperature");
}

void check_options(const SectionOptions& o) {
  check_number(o.finest, 1e-5, "SectionOptions::finest");
  check_number(o.growth, 0.01, "SectionOptions::growth");
  check_number(o.margin, 10.0 * o.finest, "SectionOptions::margin");
  check_number(o.gap_cells, 2.0, "SectionOptions::gap_cells");
  check_number(o.march_steps, 0.0, "SectionOptions::march_steps");
  check_number(o.march_courant, 0.01, "SectionOptions::march_courant");
}

void check_plane(const geometry::Device& device, const Plane& plane) {
  if (plane.normal < 0 || plane.normal > 2) refuse("Plane::normal must be 0 (x), 1 (y) or 2 (z)");
  if (std::isfinite(plane.at) && plane.at >= 0.0 && plane.at <= device.size[plane.normal]) return;
  char text[120];
  std::snprintf(text, sizeof text, "a plane at %c = %g m misses the device, which reaches from 0 to %g m",
                "xyz"[plane.normal], plane.at, device.size[plane.normal]);
  refuse(text);
}

NewtonOptions rough(const NewtonOptions& options) {
  NewtonOptions out = options;
  out.residual_tolerance = std::max(1e-3, options.residual_tolerance);
  out.mass_tolerance = out.energy_tolerance = 1.0;
  out.max_steps = std::min(options.max_steps, 40);
  return out;
}

/// A coarse state on a finer grid. Where heat is left out, the temperature stays the room's to the last bit.
State carried(const field::Problem& from, const State& state, const field::Problem& to) {
  State out = field::interpolated(from, state, to);
  if (!to.energy) out.temperature.fill(to.fluid.temperature);
  return out;
}

class SectionSolver {
 public:
  SectionSolver(const geometry::Case& content, const geometry::Condition& condition,
                const SectionGiven& given, const SectionOptions& options)
      : case_(content), condition_(condition), given_(given), options_(options) {}

  SectionResult solve() {
    choose();
    const Model model = make(1.0);
    note_gravity(model);
    State state = start_for(model);
    const bool found = find_steady(model, &state);
    field::Residual residual(model.problem);
    Fields fields = fields_of(model, state, &residual);
    if (!found && options_.march_steps > 0) average(model, state, &fields);
    result_.closure = options_.closure;
    collect(case_, given_, model, fields, &result_);
    return std::move(result_);
  }

 private:
  void choose() {
    if (options_.plane) {
      check_plane(case_.device, *options_.plane);
      result_.plane = *options_.plane;
      result_.why_plane = "as asked for";
      return;
    }
    const PlaneChoice choice = choose_plane(case_, condition_, given_);
    result_.plane = choice.plane;
    result_.why_plane = choice.why;
  }

  Model make(double coarser) const {
    return make_model(case_, condition_, given_, result_.plane, options_, coarser);
  }

  void note_gravity(const Model& model) {
    const auto& pose = case_.poses[static_cast<std::size_t>(condition_.pose)];
    result_.gravity[0] = model.problem.gravity[0];
    result_.gravity[1] = model.problem.gravity[1];
    result_.gravity_across = std::abs(pose.down()[result_.plane.normal]);
    result_.ambient_density = model.problem.fluid.density;
    result_.ambient_temperature = model.problem.fluid.temperature;
    if (result_.gravity_across > 0.02) {
      char text[120];
      std::snprintf(text, sizeof text, "%.0f %% of gravity points across the plane and is left out",
                    100.0 * result_.gravity_across);
      result_.notes.push_back(text);
    }
  }

  /// From coarser grids: each is solved roughly and hands its fields on.
  State start_for(const Model& finest) const {
    std::optional<State> state;
    std::optional<Model> before;
    for (const double coarser : kCoarser) {
      Model model = make(coarser);
      NewtonOptions steps = rough(options_.newton);
      if (state) {
        state = carried(before->problem, *state, model.problem);
      } else {
        state = field::still_state(model.problem);
        thicken(model.problem, steps, kThicker, &*state);
      }
      steps.first_courant = kFirstCourant;
      State candidate = *state;
      if (NewtonSolver(model.problem).solve(steps, &candidate).end != StepsEnd::diverged)
        state = std::move(candidate);
      before = std::move(model);
    }
    return carried(before->problem, *state, finest.problem);
  }

  template <class Factors>
  static void thicken(const field::Problem& problem, NewtonOptions steps, const Factors& factors,
                      State* state) {
    steps.max_steps = 20;
    for (const double factor : factors) {
      field::Problem thick = problem;
      thick.fluid.viscosity *= factor;
      thick.fluid.conductivity *= factor;
      steps.first_courant = 1e4;
      State candidate = *state;
      if (NewtonSolver(thick).solve(steps, &candidate).end != StepsEnd::converged) return;
      *state = std::move(candidate);
    }
  }

  bool find_steady(const Model& model, State* state) {
    NewtonOptions steps = options_.newton;
    steps.first_courant = kFirstCourant;
    State candidate = *state;
    NewtonSummary summary = NewtonSolver(model.problem).solve(steps, &candidate);
    if (summary.end != StepsEnd::converged) {
      if (summary.end != StepsEnd::diverged) last_ = candidate;
      candidate = *state;
      NewtonOptions thick = rough(options_.newton);
      thicken(model.problem, thick, kThickerAgain, &candidate);
      summary = NewtonSolver(model.problem).solve(steps, &candidate);
    }
    if (summary.end == StepsEnd::converged) *state = std::move(candidate);
    note(summary);
    result_.message = summary.message;
    if (summary.end != StepsEnd::converged) return false;
    result_.end = SectionEnd::steady;
    if (options_.scheme != Convection::upwind) raise_order(model, state);
    return true;
  }

  void raise_order(const Model& model, State* state) {
    field::Problem sharper = model.problem;
    sharper.momentum_scheme = sharper.energy_scheme = options_.scheme;
    State candidate = *state;
    NewtonOptions steps = options_.newton;
    const NewtonSummary raised = NewtonSolver(sharper).solve(steps, &candidate);
    if (raised.end != StepsEnd::converged) {
      result_.message += "; convection of higher order: " + raised.message;
      return;
    }
    *state = std::move(candidate);
    result_.first_order = false;
    result_.message = raised.message;
    note(raised);
  }

  void average(const Model& model, const State& start, Fields* fields) {
    const geometry::Vec3& size = case_.device.size;
    const double body = std::max(size[result_.plane.first()], size[result_.plane.second()]);
    const Run run =
        run_in_time(model, last_ ? *last_ : start, options_.march_steps, options_.march_courant, body);
    result_.marched_steps = run.steps;
    char text[200];
    if (!run.finite) {
      std::snprintf(text, sizeof text, "; the run in time failed after %d steps", run.steps);
      result_.message += text;
      return;
    }
    result_.span = run.span;
    result_.fluctuation = run.fluctuation;
    *fields = run.mean;
    std::snprintf(text, sizeof text,
                  "; then %d steps in time, of which the second half, %.3g s, was averaged: %.2g passages of "
                  "the device, "
                  "over which the kinetic energy varied by %.1e of its mean",
                  run.steps, run.span, run.passages, run.fluctuation);
    result_.message += text;
    if (run.passages >= kPassages)
      result_.end = SectionEnd::averaged;
    else
      result_.message += "; too short a span for a mean";
  }

  void note(const NewtonSummary& summary) {
    result_.steps = summary.steps;
    result_.factorisations = summary.factorisations;
    result_.linear_iterations = summary.linear_iterations;
    result_.residual = summary.residual();
    result_.mass = summary.audit.mass;
    result_.energy = summary.audit.energy_cells;
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  const SectionGiven& given_;
  const SectionOptions& options_;
  std::optional<State> last_;  ///< of Newton's steps that led nowhere: where a run in time starts
  SectionResult result_;
};

}  // namespace

SectionResult solve_section(const geometry::Case& content, const geometry::Condition& condition,
                            const SectionGiven& given, const SectionOptions& options) {
  check_given(content.device, given);
  check_options(options);
  return SectionSolver(content, condition, given, options).solve();
}

}  // namespace tuft::section
