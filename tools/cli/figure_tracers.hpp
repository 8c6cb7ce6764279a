// Frames of points of air that follow the flow.
#pragma once

#include <string>
#include <vector>

#include "tools/io/run.hpp"
#include "tools/cli/figure_pictures.hpp"

namespace tuft::program {

enum class TracerView { plan, section };

/// Solves the field of the run's one condition (plan layers with the cells tuft field takes, or the section
/// where it shows most) and gives a loop of frames, one SVG document each. Throws Failure (no_solution) where
/// there is no field or nothing flows in it.
std::vector<std::string> tracer_frames(const output::Run& run, TracerView view, const PictureSize& size);

}  // namespace tuft::program
