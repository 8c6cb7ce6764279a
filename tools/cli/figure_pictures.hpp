// The pictures of tuft figure: from solved conditions to SVG documents.
#pragma once

#include <string>
#include <vector>

#include "tools/io/run.hpp"

namespace tuft::program {

/// What can be drawn.
const std::vector<std::string>& picture_words();

/// A size in pixels.
struct PictureSize {
  int width = 1920, height = 1080;
};

/// One picture of a solved condition of a run as an SVG document of a size. Throws Failure (bad_input) for a
/// word that is not known, or a sweep that the condition does not have.
std::string picture(const output::Run& run, const study::ConditionResult& result, const std::string& what,
                    const PictureSize& size);

/// The frames of a sequence, one SVG document each: "sweep" turns the device through the first sweep of the
/// condition; "tracers" and "section-tracers" solve the field inside, or the slice with the air around, and
/// let points follow it. Throws Failure: bad_input for another word, no_solution where there is no field.
std::vector<std::string> frames(const output::Run& run, const study::ConditionResult& result,
                                const std::string& what, const PictureSize& size);

}  // namespace tuft::program
