// The few questions that matter when a case is begun.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "geometry/casefile/starter.hpp"

namespace tuft::start {

/// The way to the person: shows a text, and gets a line without its end; no line when the input has ended.
struct Talk {
  std::function<void(const std::string&)> say;
  std::function<std::optional<std::string>()> line;
};

/// What was given beforehand, such as by options; what is there is not asked. Texts as `answers.hpp` reads
/// them.
struct Given {
  std::optional<std::string> kind, name, size, feet, vents, outlet, fan, power;
};

/// Asks for everything that was not given; an empty answer takes what stands in brackets, a bad one is asked
/// again with what is allowed. No value when the input ends before the last answer. Throws
/// std::invalid_argument with a message for the person when something given is wrong.
std::optional<casefile::Starter> ask_for_starter(const Given& given, const Talk& talk);

/// The same without asking: what was not given is the class's own.
casefile::Starter starter_from(const Given& given);

}  // namespace tuft::start
