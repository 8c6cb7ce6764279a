// The flow on one model's grid: a steady state, or a mean in time.
#pragma once

#include "solver/flow2d/section_collect.hpp"
#include "solver/flow2d/section_solve.hpp"

namespace tuft::section {

/// A rough state on the coarsest grid, far thicker air first.
field::State rough_start(const Model& model, const SectionOptions& options);

/// Rough steps on a grid between: what a finer one starts from. A state found to the last digit is no better
/// start, and where jets have several states often a worse one.
field::State rough_flow(const Model& model, const field::State& start, const SectionOptions& options);

/// A state of one grid on a finer one. Where heat is left out, the temperature stays the room's to the last
/// bit.
field::State carried(const field::Problem& from, const field::State& state, const field::Problem& to);

/// Newton's steps from `start`, gently begun; if they stagnate, thicker air on the grid itself; then a run in
/// time (F33), `body` [m] long. With a sharper scheme asked for, that one from the steady state, kept where
/// it converges.
Found find_flow(const Model& model, const field::State& start, const SectionOptions& options, double body);

}  // namespace tuft::section
