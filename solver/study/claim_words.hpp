// What is seen of a claim in solved conditions, as a sentence with numbers.
#pragma once

#include <string>
#include <vector>

#include "solver/study/result.hpp"

namespace tuft::study {

/// The numbers behind a claim: "grille is intake (62 % of the through-flow, 26 cm/s)". `results[i]` is
/// condition i. @pre the claim's conditions are solved.
std::string seen_of(const geometry::Case& content, const geometry::Claim& claim,
                    const std::vector<ConditionResult>& results);

/// What a claim asks for, where that is a number: "at least 1.5", "40 % to 60 %"; else empty.
std::string asked_by(const geometry::Claim& claim);

/// Name of what a claim about heat is about: "processor", "the air of outlet".
std::string name_of(const geometry::Device& device, const geometry::Place& of);

/// "35.2 °C"; a difference: "4.1 K".
std::string celsius(double kelvin);
std::string kelvins(double difference);

}  // namespace tuft::study
