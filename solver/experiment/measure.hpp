// What to measure next: what a person could measure, and how much doubt it would take away.
#pragma once

#include <vector>

#include "solver/experiment/observable.hpp"
#include "solver/uncertainty/worth.hpp"
#include "solver/study/ensemble.hpp"

namespace tuft::belief {

/// One measurement with its expected drop of doubt.
struct Suggestion {
  Measurement measurement;
  std::vector<double> drop;   ///< of each question's doubt [bit]
  std::vector<double> error;  ///< its standard error
  double total = 0.0;
};

/// What a person could measure in these conditions, in a fixed order: a strip, an anemometer and a
/// thermocouple before every vent, fan speeds, chips, skin, the spots of an infrared thermometer, and a ruler
/// on every opening whose size or free area is in doubt.
std::vector<Measurement> measurements(const geometry::Case& content, const std::vector<int>& conditions,
                                      const std::vector<ensemble::Input>& inputs,
                                      const std::vector<geometry::Spot>& spots = {});

/// The measurements that can be made, by falling total drop of doubt (docs/theory.md, D15); `weights` of the
/// sample, 0 without a solution. `nominal[i]` is condition i as written.
std::vector<Suggestion> suggestions(const geometry::Case& content, const Questions& questions,
                                    const ensemble::Ensemble& sample,
                                    const std::vector<study::ConditionResult>& nominal,
                                    const doubt::WorthRule& rule = {},
                                    const std::vector<geometry::Spot>& spots = {});

}  // namespace tuft::belief
