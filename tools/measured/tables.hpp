// The tables of docs/measured.md, and its figure.
#pragma once

#include <string>

#include "tools/measured/predicted.hpp"

namespace tuft::measured {

/// Markdown of the values, of the trends, and of coverage in one sentence.
std::string value_table(const std::vector<Compared>& values);
std::string trend_table(const std::vector<Judged>& trends);
std::string coverage_text(const std::vector<Compared>& values);

/// The page with the text between "<!-- NAME -->" and "<!-- end of NAME -->" exchanged, for the names values,
/// trends and coverage. Throws std::runtime_error where such a line is missing.
std::string page_with(const std::string& page, const Comparison& comparison);

/// The text with every "N of M measured values" in it as coverage is now.
std::string with_coverage(const std::string& text, const std::vector<Compared>& values);

/// Predicted against measured, both on logarithmic axes, with bars both ways: an SVG document.
std::string scatter(const std::vector<Compared>& values);

}  // namespace tuft::measured
