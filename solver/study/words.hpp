// Numbers, lists, and what is seen at vents and of claims, in words.
#pragma once

#include <string>
#include <vector>

#include "solver/study/result.hpp"

namespace tuft::study {

using geometry::UnitSystem;

/// Three significant digits: "0.0123", "12.3", "1230".
std::string digits(double value);

/// A signed pressure: "-0.0031 Pa", "+12.4 Pa".
std::string pascals(double value);

/// A share as a percentage: "37 %", "2.1 %".
std::string percent(double share);

/// A mass flow [kg/s] as a volume flow of air of a density: "1.23 L/s".
std::string volume_flow(double mass_flow, double density, UnitSystem units);

/// A speed of air [m/s]: "0.26 m/s". A length [m]: "1.5 mm".
std::string speed(double metres_per_second, UnitSystem units);
std::string length(double metres, UnitSystem units);

/// The word of a role in a sentence.
const char* spoken(geometry::Role role);

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& words);

/// The name of a condition as a sentence has it: in quotation marks, as names such as in-use read as words of
/// the sentence else.
std::string quoted(const std::string& name);

/// "free", "0.3 mm off what it faces, 70 % of it pressed shut", "shut".
std::string front_words(const VentResult& vent, UnitSystem units);

/// Whether two conditions differ in what stands before a vent enough to be the first thing to tell.
bool front_changes(const VentResult& from, const VentResult& to);

/// What a claim asks for, where that is a number: "at least 1.5", "40 % to 60 %"; else empty.
std::string asked_by(const geometry::Claim& claim, UnitSystem units);

/// Name of what a claim about heat is about: "processor", "the air of outlet".
std::string name_of(const geometry::Device& device, const geometry::Place& of);

/// A temperature [K]: "35.2 °C"; a difference [K]: "4.1 °C".
std::string temperature(double kelvin, UnitSystem units);
std::string difference(double kelvin, UnitSystem units);

}  // namespace tuft::study
