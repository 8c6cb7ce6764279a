// The pictures of tuft figure: from solved conditions to SVG documents.
#pragma once

#include <string>
#include <vector>

#include "tools/io/run.hpp"

namespace tuft::cli {

/// A size in pixels.
struct PictureSize {
  int width = 1920, height = 1080;
};

/// What stands beside every figure of a solved condition, and in its small print.
std::string figure_subtitle(const io::Run& run, const study::ConditionResult& result);
std::string figure_note(const io::Run& run);

/// One picture of a solved condition of a run as an SVG document of a size. Throws Failure (bad_input) for a
/// word that is not known, or a sweep that the condition does not have.
std::string picture(const io::Run& run, const study::ConditionResult& result, const std::string& what,
                    const PictureSize& size);

/// The device turned through the first sweep of the condition, one SVG document a frame. Throws as picture().
std::vector<std::string> sweep_frames(const io::Run& run, const study::ConditionResult& result,
                                      const PictureSize& size);

/// Throws Failure (bad_input): an option's word is none of those known.
[[noreturn]] void refuse_word(const std::string& option, const std::string& word,
                              const std::vector<std::string>& known);

}  // namespace tuft::cli
