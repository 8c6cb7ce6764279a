// What could be measured: what an instrument would show in every sample of a case, and how much uncertainty a
// measurement would take away.
#pragma once

#include <string>
#include <vector>

#include "solver/experiment/expected_reading.hpp"
#include "solver/experiment/verdicts.hpp"
#include "solver/study/ensemble.hpp"
#include "solver/uncertainty/information_gain.hpp"
#include "solver/uncertainty/likelihood.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::experiment {

/// What is read where an input itself is measured.
enum class Of {
  size,           ///< a length, or a share of holes that are counted, with a ruler
  tilt,           ///< of what the device rests on, with a level
  draught_speed,  ///< of the room's air, with an anemometer beside the device
  draught_from    ///< where it comes from, with a strip that hangs beside the device
};

/// A measurement that can be made: a probe in a condition, or a ruler (a count of holes) on something that is
/// an input of the case.
struct Measurement {
  Probe probe;
  int condition = -1;  ///< index into Case::conditions; -1: a ruler needs none
  int input = -1;      ///< ruler: number of the ensemble's input
  double error = 0.0;  ///< standard deviation, in the reading's unit; 0: the instrument's own
  Of of = Of::size;    ///< ruler: what is read
};

/// A measurement's outcome as a function of a sample (docs/theory.md, D21). Made once with a few answers of
/// experiment::ReadingModel; what else moves the air at the probe stands at its nominal value. A tell-tale
/// shows the even speed along the vent's outward normal that it answers to [m/s], with the threshold and
/// width that the bench's chances of leaning have in that speed; all else shows the mean of the instrument's
/// readings [SI].
class Observable {
 public:
  /// `nominal` is the condition solved as written (of a ruler, any). Throws std::invalid_argument as
  /// experiment::ReadingModel does.
  Observable(const geometry::Case& content, const study::ConditionResult& nominal,
             const Measurement& measurement);

  /// False: no such reading can be had; `reason` says why.
  bool possible() const { return reason_.empty(); }
  const std::string& reason() const { return reason_; }
  const Measurement& measurement() const { return measurement_; }
  const uncertainty::ErrorModel& error() const { return error_; }

  /// What each sample shows the instrument; 0 where the sample has no solution. `views[i]` holds the
  /// questions' conditions, `values` the inputs. @pre possible().
  std::vector<double> shown(const Questions& questions,
                            const std::vector<std::vector<study::StateSummary>>& views,
                            const uncertainty::SampleMatrix& values) const;

 private:
  void tabulate(const geometry::Case& content, const study::ConditionResult& nominal);
  void fit_lean(const std::vector<double>& outward, const std::vector<double>& inward);
  void fit_number(const std::vector<double>& sigma);
  double quantity(const study::StateSummary& view) const;
  double shown_by(const study::StateSummary& view) const;

  Measurement measurement_;
  std::string reason_;
  std::vector<double> x_;  ///< of the quantity looked at, rising
  std::vector<double> t_;  ///< temperatures of the vent's air [K], rising; of all but air before a vent one
  std::vector<double> y_;  ///< what is shown, x_ by x_ for every t_
  uncertainty::ErrorModel error_;
};

/// One measurement with its expected drop of uncertainty.
struct Suggestion {
  Measurement measurement;
  std::vector<double> gain;   ///< of each question's uncertainty [bit]
  std::vector<double> error;  ///< its standard error
  double total = 0.0;
};

/// What a person could measure in these conditions, in a fixed order: a strip, an anemometer and a
/// thermocouple before every vent, fan speeds, chips, skin, the spots of an infrared thermometer, and a ruler
/// on every opening whose size or free area is uncertain.
std::vector<Measurement> measurements(const geometry::Case& content, const std::vector<int>& conditions,
                                      const std::vector<study::Input>& inputs,
                                      const std::vector<geometry::Spot>& spots = {});

/// The measurements that can be made and tell more than the noise of the sample would feign, by falling total
/// drop of uncertainty (docs/theory.md, D15); `weights` of the sample, 0 without a solution. `nominal[i]` is
/// condition i as written.
std::vector<Suggestion> suggestions(const geometry::Case& content, const Questions& questions,
                                    const study::Ensemble& sample,
                                    const std::vector<study::ConditionResult>& nominal,
                                    const uncertainty::InformationGainRule& rule = {},
                                    const std::vector<geometry::Spot>& spots = {});

}  // namespace tuft::experiment
