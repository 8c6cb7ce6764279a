// The few questions that matter when a case is begun, and answers as people type them: to a question, or
// after an option of `tuft new`.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "geometry/casefile/starter.hpp"

namespace tuft::cli {

/// A value that was understood, or what is wrong with the answer and what is allowed, for a person.
template <typename Type>
struct Answer {
  Type value{};
  std::string fault;  ///< empty if nothing is wrong
  bool ok() const { return fault.empty(); }
};

/// "2", "handheld" or "laptop": a class by its number in the order offered, by its word, or by what people
/// call such devices.
Answer<casefile::StarterClass> class_of(const std::string& text);

/// "312 x 221 x 16", "312 mm, 221 mm, 1.6 cm", "31,4 x 22,4 x 1,8 cm", "12.3\" x 8.7\" x 0.6\"": width, depth
/// and height [m]; numbers without a unit are mm.
Answer<geometry::Vec3> size_of(const std::string& text);

/// "2", "2 mm": a length [m] within [least, most]; a number without a unit is mm.
Answer<double> length_of(const std::string& text, double least, double most);

/// "52 mm", "52, 40 mm" or "2 x 52 mm": lengths [m] within [least, most], at least one.
Answer<std::vector<double>> lengths_of(const std::string& text, double least, double most);

/// "35", "35 W": a power [W], above 0 and up to 5 kW; a number without a unit is W.
Answer<double> power_of(const std::string& text);

/// "base, left" or "bottom left": faces, each of `allowed` and named once; at least one.
Answer<std::vector<geometry::Face>> faces_of(const std::string& text,
                                             const std::vector<geometry::Face>& allowed);

/// A length or a power as people write it: "312 mm", "8.5 W".
std::string millimetres(double length);
std::string watts(double power);

/// The way to the person: shows a text, and gets a line without its end; no line when the input has ended.
struct Talk {
  std::function<void(const std::string&)> say;
  std::function<std::optional<std::string>()> line;
};

/// What was given beforehand, such as by options; what is not empty is not asked. Texts as the functions
/// above read them.
struct Given {
  std::string kind, name, size, feet, vents, outlet, fan, power;
};

/// Asks for everything that was not given; an empty answer takes what stands in brackets, a bad one is asked
/// again with what is allowed. No value when the input ends before the last answer. Throws
/// std::invalid_argument with a message for the person when something given is wrong.
std::optional<casefile::Starter> ask_for_starter(const Given& given, const Talk& talk);

/// The same without asking: what was not given is the class's own.
casefile::Starter starter_from(const Given& given);

}  // namespace tuft::cli
